"""Exposure: a dose (lux x hours x days / 10^6, arithmetic), days to look, which way the sun is."""

import pytest

from halfpan.core.fading.exposure import LOOKS, dose_mlx_h, due_look, next_look, sensitivity, wrong_way


def test_a_year_of_a_shop_window_is_the_published_dose():
    """450 lx, 12 h a day: 1.971 Mlx h a year (assumption of the display industry, calculated)."""
    assert dose_mlx_h(365, 450, 12) == pytest.approx(1.971, abs=5e-4)


@pytest.mark.parametrize(("lux", "hours"), [(None, 12), (450, None)])
def test_a_dose_is_unknown_without_the_light(lux, hours):
    assert dose_mlx_h(30, lux, hours) is None


def test_a_look_is_due_when_its_day_has_come_and_nobody_looked_since():
    assert due_look(LOOKS, [], 3) is None
    assert due_look(LOOKS, [0.0], 8) == 7
    assert due_look(LOOKS, [0.0, 7.0], 8) is None
    assert due_look(LOOKS, [0.0], 65) == 60
    assert due_look(LOOKS, [0.0, 61.0], 119) is None
    assert due_look(LOOKS, [0.0, 61.0], 120) == 120


def test_after_the_last_day_of_the_plan_nothing_is_to_come():
    assert next_look(LOOKS, 14) == 30
    assert next_look(LOOKS, 120) is None


def test_a_window_away_from_the_sun_is_told_in_both_halves_of_the_world():
    """South-facing north of the equator, north-facing south of it (common practice, geography)."""
    assert "faces north" in (wrong_way("north", 52) or "")
    assert "faces south-east" in (wrong_way("south-east", -34) or "")
    assert wrong_way("south", 52) is None
    assert wrong_way("north", -34) is None
    assert wrong_way("east", 52) is None


def test_nobody_is_told_off_where_the_way_or_the_place_is_unknown_or_the_sun_stands_on_either_side():
    assert wrong_way("", 52) is None
    assert wrong_way("north", None) is None
    assert wrong_way("north", 10) is None


def test_blue_wools_have_the_words_of_the_conservation_institute():
    """High 1-3, medium 4-6, low 7-8: Michalski, Canadian Conservation Institute."""
    words = [sensitivity(wool) for wool in range(1, 9)]
    assert words == ["high"] * 3 + ["medium"] * 3 + ["low"] * 2
    with pytest.raises(ValueError, match="1 to 8"):
        sensitivity(9)
