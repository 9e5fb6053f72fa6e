"""A hand's corrections to a grid."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.measuring.corrections import corrected
from halfpan.core.measuring.grid import grid_of, grid_page
from halfpan.errors import BadRequest


@pytest.fixture
def grid():
    columns = np.array([[10.0, 26.0], [30.0, 46.0]])
    return grid_of(None, columns, columns, np.ones((2, 2), dtype=bool))


def test_a_box_that_is_skipped_is_not_read(grid):
    assert [b.box for b in grid_page(corrected(grid, {"A2": {"skip": True}})).boxes] == ["A1", "B1", "B2"]


def test_a_move_is_in_shares_of_the_box(grid):
    moved = corrected(grid, {"A1": {"move": [0.5, -0.25]}})
    assert (moved.rects[0].x, moved.rects[0].y) == (18.0, 6.0)
    assert moved.rects[1:] == grid.rects[1:]


def test_a_new_size_keeps_the_middle(grid):
    sized = corrected(grid, {"A1": {"size": [0.5, 1]}}).rects[0]
    assert (sized.x, sized.width, sized.height) == (14.0, 8.0, 16.0)


def test_boxes_run_together_are_one_box(grid):
    merged = corrected(grid, {"A1": {"merge": "A2"}})
    assert (merged.rects[0].x, merged.rects[0].right) == (10.0, 46.0)
    assert [b.box for b in grid_page(merged).boxes] == ["A1", "B1", "B2"]


@pytest.mark.parametrize(
    "wrong",
    [
        {"Z9": {"skip": True}},
        {"A1": {"twist": 3}},
        {"A1": {"move": [1]}},
        {"A1": {"move": [9, 0]}},
        {"A1": {"size": [0, 1]}},
        {"A1": {"merge": "A1"}},
        {"A1": {"merge": "Q7"}},
    ],
)
def test_a_correction_that_cannot_be_meant_is_refused(grid, wrong):
    with pytest.raises(BadRequest, match=r"\.$"):
        corrected(grid, wrong)
