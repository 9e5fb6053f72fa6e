"""What a zone gives back: gaps and sparkle left out, and a graded stroke followed."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.chart.sheet import Rect, Zone
from halfpan.core.measuring.looks import Looks
from halfpan.core.measuring.sample import BINS, LUMINANCE, TRIM, follow, samples_of, take

WASH = np.array([0.2, 0.3, 0.4])


def looks(relative, along=None):
    none = np.zeros(relative.shape, dtype=bool)
    lies = np.linspace(0, 1, len(relative)) if along is None else along
    return Looks(relative, none, none, lies, (10.0, 20.0), (5.0, 4.0))


def washed(count=400, seed=0):
    return WASH * np.exp(np.random.default_rng(seed).normal(0, 0.02, (count, 1)))


def test_a_wash_is_the_mean_of_its_middle_four_fifths_by_luminance():
    """Quantiles and medians checked against numpy's own."""
    pixels = washed()
    (sample,) = take([looks(pixels)])
    level = pixels @ LUMINANCE
    kept = level <= np.median(level) + 4 * np.median(np.abs(level - np.median(level))) + 1e-3
    low, high = np.quantile(level[kept], [TRIM, 1 - TRIM])
    chosen = kept & (level >= low) & (level <= high)
    assert sample.relative == pytest.approx(pixels[chosen].mean(0))
    assert sample.spread == pytest.approx(pixels[kept].std(0))
    assert sample.count == chosen.sum()
    middle = np.median(level[kept])
    assert sample.grain == pytest.approx(np.median(np.abs(level[kept] - middle)) / middle)


def test_gaps_and_sparkle_are_left_out_and_told():
    pixels = washed()
    pixels[:40] = 0.98
    pixels[40:60] = 0.6
    (sample,) = take([looks(pixels)])
    assert (sample.bare, sample.hot) == pytest.approx((0.1, 0.05), abs=0.01)
    assert sample.relative == pytest.approx(WASH, rel=0.01)
    (over_black,) = take([looks(pixels)], gaps=[False])
    assert over_black.bare == 0


def test_each_zone_is_read_as_if_it_were_alone_whatever_lies_beside_it():
    many = [looks(washed(count, seed)) for seed, count in enumerate((300, 500, 300, 17, 500))]
    many[2].relative[:100] = np.nan
    together = take(many, gaps=[True, False, True, True, True])
    for one, gap, sample in zip(many, (True, False, True, True, True), together, strict=True):
        (alone,) = take([one], gaps=[gap])
        assert sample.relative == pytest.approx(alone.relative, rel=1e-12)
        assert (sample.count, sample.grain) == pytest.approx((alone.count, alone.grain))


def test_a_zone_outside_the_picture_gives_nothing_and_no_warning():
    blind = looks(np.full((50, 3), np.nan))
    blind = Looks(blind.relative, ~blind.high, blind.low, blind.along, blind.middle, blind.size)
    (sample,) = take([blind])
    assert np.isnan(sample.relative).all()
    assert (sample.count, sample.burnt) == (0, 1.0)
    assert follow([blind]) == [[]]


def test_a_graded_stroke_is_followed_from_end_to_end():
    along = np.random.default_rng(1).permutation(np.linspace(0, 1, 600))
    (steps,) = follow([looks(WASH + 0.5 * along[:, None], along)])
    assert len(steps) == BINS
    expected = WASH + 0.5 * ((np.arange(BINS) + 0.5) / BINS)[:, None]
    assert np.stack([step.relative for step in steps]) == pytest.approx(expected, abs=0.002)


def test_zones_too_small_or_half_in_the_picture_are_not_followed():
    half = washed()
    half[0] = np.nan
    assert follow([looks(washed(BINS - 1)), looks(half), looks(washed())])[:2] == [[], []]


def test_bare_paper_is_a_median_and_a_flat_zone_one_sample():
    rect = Rect(0, 0, 5, 4)
    zones = [Zone("graded", rect, "paper", "down"), Zone("bare", rect), Zone("masstone", rect, "paper")]
    pixels = washed()
    graded, bare, flat = samples_of(zones, [looks(pixels)] * 3)
    assert (len(graded), len(bare), len(flat)) == (BINS, 1, 1)
    assert bare[0].relative == pytest.approx(np.median(pixels, axis=0))
