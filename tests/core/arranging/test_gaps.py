"""Gaps are counted from the reach table itself."""

from __future__ import annotations

import numpy as np

from halfpan.core.arranging.gaps import closes_most, gaps, lost_cells
from halfpan.core.arranging.reach import reach_table
from halfpan.core.colour.spaces import lab_to_lch, lch_to_lab


def wheel():
    """Six paints of hue 0, 60 ... 300, each with its own washes only."""
    pairs = np.array([(i, i) for i in range(6)])
    washes = [[lch_to_lab((L, 60 * (1 - L / 110), 60 * i + 10)) for L in range(30, 100, 5)] for i in range(6)]
    return reach_table(pairs, np.array(washes)[:, None], 6)


def test_the_hue_that_is_missing_is_named_with_an_example():
    table = wheel()
    found = gaps(table, [0, 1, 2, 4, 5], range(6))
    assert {(gap.from_hue, gap.to_hue) for gap in found} == {(180.0, 210.0)}
    for gap in found:
        assert gap.reached < gap.possible
        assert 180 <= lab_to_lch(gap.example)[2] <= 210
    assert sum(gap.missing for gap in found) <= len(lost_cells(table, [0, 1, 2, 4, 5], range(6)))


def test_the_whole_set_has_no_gap_against_itself():
    assert gaps(wheel(), range(6), range(6)) == ()


def test_the_wish_that_closes_most_comes_first_and_counts_truly():
    table = wheel()
    found = closes_most(table, [0, 1], [1, 2, 3])
    assert {paint for paint, _ in found} == {2, 3}
    for paint, gain in found:
        assert table.count([0, 1, paint]) - table.count([0, 1]) == gain
