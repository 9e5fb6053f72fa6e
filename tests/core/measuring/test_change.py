"""Differences between readings, lifting, and the hand's own repeatability."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.measuring.change import change, repeatability_limit, share_left
from halfpan.core.paint.reading import Reading


def reading(lab, radius):
    return Reading("1", "p", "masstone", lab, radius, "target")


def test_drying_lighter_and_duller_is_said_so():
    found = change(reading((40.0, 30.0, 20.0), 0.8), reading((46.0, 27.0, 18.0), 0.6))
    assert found.lightness == pytest.approx(6.0)
    assert found.chroma < 0
    assert found.within == pytest.approx(1.0)
    assert found.sure


def test_hue_turns_the_short_way_round():
    found = change(reading((50.0, 40.0, 2.0), 1.0), reading((50.0, 40.0, -2.0), 1.0))
    assert -6 < found.hue < 0


def test_a_change_within_its_doubt_is_not_sure():
    assert not change(reading((50.0, 0.0, 0.0), 1.5), reading((51.0, 0.0, 0.0), 1.5)).sure


def test_swatches_painted_apart_are_doubted_by_the_hand_too():
    first, second = reading((50.0, 0.0, 0.0), 1.0), reading((53.0, 0.0, 0.0), 1.0)
    assert change(first, second).sure
    assert not change(first, second, repeatability=4.0).sure


def test_a_wash_that_lifts_to_paper_leaves_nothing_and_a_stain_leaves_all():
    paper, wash = (95.5, 0.0, 1.0), (40.0, 40.0, 20.0)
    assert share_left(wash, paper, paper) == 0.0
    assert share_left(wash, wash, paper) == 1.0
    assert share_left(paper, paper, paper) == 0.0


def test_the_limit_is_that_of_iso_5725():
    # Greys: CIEDE2000 there is lightness over S_L, so the pooled SD follows by hand.
    chance = np.random.default_rng(3)
    lab = np.stack([50 + chance.normal(0, 0.5, 4000), np.zeros(4000), np.zeros(4000)], axis=-1)
    assert repeatability_limit([lab.reshape(-1, 3)]) == pytest.approx(2.8 * 0.5, rel=0.05)
    apart = np.abs(lab[:2000, 0] - lab[2000:, 0])
    assert np.mean(apart < repeatability_limit([lab])) == pytest.approx(0.95, abs=0.02)


def test_without_repeats_repeatability_is_unknown():
    assert np.isnan(repeatability_limit([[(50, 0, 0)]]))
