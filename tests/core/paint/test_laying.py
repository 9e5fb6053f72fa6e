"""Words for how a wash lies."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.paint.laying import OPEN, UNTESTED, LayingRule, laying_words
from halfpan.core.paint.reading import Swatch

BOX = Swatch("1", None, "")


def test_what_was_not_measured_is_untested():
    assert set(laying_words(BOX).values()) == {UNTESTED}


@pytest.mark.parametrize(
    ("value", "within", "word"), [(0.03, 0.02, "even"), (0.20, 0.10, "uneven"), (0.07, 0.04, OPEN)]
)
def test_evenness_has_a_word_only_where_the_doubt_allows_one(value, within, word):
    said = laying_words(replace(BOX, unevenness=value, unevenness_within=within))["evenness"]
    assert said.split(",")[0] == word


@pytest.mark.parametrize(
    ("value", "within", "word"),
    [(0.2, 0.02, "dark rim"), (-0.12, 0.06, "pale rim"), (0.02, 0.04, "no rim"), (0.08, 0.05, OPEN)],
)
def test_a_rim_is_dark_pale_none_or_open(value, within, word):
    assert laying_words(replace(BOX, edge=value, edge_within=within))["edge"].split(",")[0] == word


def test_separation_keeps_together_or_parts():
    near = replace(BOX, separation=0.1, separation_within=0.08)
    far = replace(BOX, separation=0.7, separation_within=0.2)
    assert "together" in laying_words(near)["separation"]
    assert laying_words(far)["separation"].startswith("colours part, 70 ± 20 %")


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0.01, 0.5))
def test_more_doubt_never_turns_one_word_into_the_other(value, within, more):
    first, second = (
        laying_words(replace(BOX, unevenness=value, unevenness_within=w))["evenness"].split(",")[0]
        for w in (within, within + more)
    )
    assert second in {first, OPEN}


def test_the_limits_can_be_turned():
    box = replace(BOX, unevenness=0.06, unevenness_within=0.01)
    assert laying_words(box, LayingRule(even_up_to=0.03))["evenness"].startswith("uneven")
