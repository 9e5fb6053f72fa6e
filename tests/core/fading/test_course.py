"""A change over days, and its word. Limits: ISO 105-A02 step 4, and those of ASTM D4303 as a yardstick."""

import pytest

from halfpan.core.fading.course import LIMITS, Look, passed, window_says, word_for
from halfpan.core.fading.halves import Fading
from halfpan.core.paint.light_words import ASTM_LIMITS
from halfpan.core.paint.witness import answers


def look(days, change, within=0.5):
    return Look(days, Fading(change, within, change, within, (change, 0.0, 0.0), from_start=True))


def test_the_named_limits_are_the_published_ones():
    assert LIMITS == (1.7, 4.0)
    assert LIMITS[1] == ASTM_LIMITS["I"]


def test_a_limit_is_passed_between_the_last_sure_no_and_the_first_sure_yes():
    looks = [look(0, 0.1), look(7, 0.6), look(14, 1.5), look(30, 3.0), look(60, 5.0)]
    first, second = (passed(looks, limit) for limit in LIMITS)
    assert (first.after, first.by) == (7, 30)
    assert (second.after, second.by) == (30, 60)


def test_nothing_is_told_beyond_the_last_look():
    found = passed([look(30, 0.4), look(7, 0.2)], 4.0)
    assert (found.after, found.by) == (30, None)


def test_a_look_in_too_much_doubt_settles_nothing():
    found = passed([look(30, 3.0, 3.0)], 1.7)
    assert (found.after, found.by) == (0, None)


@pytest.mark.parametrize(
    ("seen", "level", "word"),
    [
        (look(14, 12.0), 1.0, "fades"),
        (look(14, 4.0), 0.5, "changed"),
        (look(14, 0.5), None, "no sure change so far"),
        (look(120, 0.5), 0.0, "held so far"),
        (look(120, 2.0, 3.0), None, "cannot be told"),
        (look(120, 2.5, 0.5), 0.5, "changed"),
    ],
)
def test_a_test_speaks_when_the_change_is_sure_or_the_time_was_long(seen, level, word):
    told, at = word_for(seen)
    assert at == level
    assert told.startswith(word)


def test_as_proof_it_says_days_paper_and_glass_and_promises_nothing():
    said = window_says(look(121, 0.5), "thin", paper="Old Rag", glass="plain window glass")
    assert said.text == (
        "held so far: thin ΔE*ab 0.5 ± 0.5 in my window test, 121 days, Old Rag, plain window glass"
    )
    assert answers("light", said) is False
    assert answers("light", window_says(look(9, 6.0), "thin")) is True
    assert answers("light", window_says(look(9, 0.2), "thin")) is None
    assert "1 day, paper not noted" in window_says(look(1, 0.2), "thin").text
