"""Kept against exposed: laws of a difference, and measured micro-fading runs end to end."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.colour.difference import delta_e_76, delta_e_2000
from halfpan.core.fading.halves import Halves, fading, which_way
from halfpan.core.paint.reading import Reading

labs = st.tuples(st.floats(20, 90), st.floats(-60, 60), st.floats(-60, 60))


def read(lab, within=2.0, zone="kept"):
    return Reading("1", "P1", zone, tuple(float(v) for v in lab), within, "paper")


def halves(kept, exposed, within=2.0):
    return Halves(read(kept, within), read(exposed, within, "exposed"))


@given(labs, labs)
def test_a_change_is_the_published_difference_of_the_two_halves(kept, exposed):
    found = fading(halves(kept, exposed))
    assert found.delta_e_ab == pytest.approx(float(delta_e_76(exposed, kept)), abs=1e-9)
    assert found.delta_e_00 == pytest.approx(float(delta_e_2000(exposed, kept)), abs=1e-9)
    assert found.within_ab > 0 < found.within_00


@given(labs, labs)
def test_what_the_halves_differed_by_at_the_start_is_taken_off(kept, exposed):
    same = halves(kept, exposed)
    found = fading(same, same)
    assert found.delta_e_ab == pytest.approx(0, abs=1e-9)
    assert not found.sure


def test_a_strip_not_read_at_the_start_is_in_more_doubt():
    now = halves((50, 40, 20), (53, 36, 18))
    start = halves((50, 40, 20), (50, 40, 20))
    assert fading(now).within_ab > fading(now, start).within_ab
    assert fading(now, start).from_start
    assert not fading(now).from_start


def test_a_poor_photo_leaves_more_doubt_about_a_great_change_and_no_more_about_none():
    great = ((50, 40, 20), (65, 20, 15))
    none = ((50, 40, 20), (50, 40, 20))
    assert fading(halves(*great, 8.0)).within_ab > 2 * fading(halves(*great, 2.0)).within_ab
    assert fading(halves(*none, 8.0)).within_ab == pytest.approx(fading(halves(*none, 2.0)).within_ab)


def test_a_colour_beyond_what_the_picture_holds_is_in_more_doubt():
    now = halves((50, 80, 0), (55, 70, 0))
    flagged = replace(now, exposed=replace(now.exposed, flags=("beyond what the picture can hold",)))
    assert fading(flagged).within_ab == pytest.approx(2 * fading(now).within_ab)
    assert fading(flagged).delta_e_ab == fading(now).delta_e_ab


def test_the_doubt_of_a_vivid_colour_is_wider_in_the_old_formula_than_in_the_new():
    """CIEDE2000 weighs chroma down by 1 + 0.045 C (published formula), so the same doubt is more dE*ab."""
    found = fading(halves((50, 80, 0), (50, 75, 0)))
    assert found.within_ab > 3 * found.within_00


@pytest.mark.parametrize(
    ("exposed", "words"),
    [
        ((58, 40, 0), ("paler",)),
        ((42, 40, 0), ("darker",)),
        ((50, 25, 0), ("greyer",)),
        ((50, 60, 0), ("stronger in colour",)),
        ((50, 37, 15), ("yellower",)),
        ((50, 37, -15), ("bluer",)),
        ((50, 41, 0), ()),
    ],
)
def test_the_way_a_colour_went_is_told_in_words(exposed, words):
    kept = (50, 40, 0)
    assert which_way(fading(halves(kept, exposed)), kept) == words


def test_a_grey_has_no_hue_to_go_out_of():
    kept = (50, 0, 0)
    assert which_way(fading(halves(kept, (50, 9, 0))), kept) == ("stronger in colour", "redder")
