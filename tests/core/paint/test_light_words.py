"""Words of light tests: the limits of ASTM D4303 on dE*ab (IV and V from memory)."""

from __future__ import annotations

import pytest

from halfpan.core.paint.index import pigments
from halfpan.core.paint.light_words import what_it_means


@pytest.mark.parametrize(
    ("word", "told"),
    [
        ("I", "at most ΔE*ab 4"),
        ("II", "more than ΔE*ab 4, at most 8"),
        ("III", "more than ΔE*ab 8, at most 16"),
        ("III-IV", "more than ΔE*ab 8, at most 24"),
        ("V", "more than ΔE*ab 24"),
    ],
)
def test_a_category_is_told_by_its_limits(word, told):
    assert told in what_it_means(word)


def test_the_last_category_has_no_upper_limit():
    assert what_it_means("V").startswith("the tint changed by more than ΔE*ab 24 in")


def test_what_is_no_category_has_no_meaning():
    assert [what_it_means(word) for word in ("not listed", "", "VI", "I in newer makers' tests")] == [
        None
    ] * 4


def test_every_word_of_the_index_is_a_category_or_not_listed():
    said = {one.astm.text for one in pigments().values()}
    assert {word for word in said if what_it_means(word) is None} <= {"not listed"}
