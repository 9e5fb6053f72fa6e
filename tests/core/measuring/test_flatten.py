"""Where the paper lies in a picture, for sheets and lenses of known shape."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from halfpan.core.chart.sheet import Mark
from halfpan.core.measuring.flatten import beyond_marks, flatten, from_points, to_paper, to_picture
from halfpan.errors import UnreadablePhoto

SIZE = (2400, 1800)
MIDDLES = np.stack(np.meshgrid(np.arange(25, 130, 20.0), np.arange(25, 190, 20.0)), -1).reshape(-1, 2)


def seen(points, *, k1=0.0, sag=0.0):
    """OpenCV's own pinhole and lens, before a sheet that bulges ``sag`` mm at 74 mm from its middle."""
    x, y = points[..., 0] - 74, points[..., 1] - 105
    space = np.stack([x, y, sag * (x / 74) ** 2], axis=-1).reshape(-1, 3)
    lens = np.array([[2000.0, 0, 899.5], [0, 2000.0, 1199.5], [0, 0, 1]])
    turn, shift = np.array([0.12, -0.15, 0.05]), np.array([2.0, -3.0, 230.0])
    image, _ = cv2.projectPoints(space, turn, shift, lens, np.array([k1, 0.0, 0.0, 0.0]))
    return image.reshape(*points.shape)[..., ::-1]


def marks_of(page, chance=None, **shape):
    found = {m.id: seen(np.array(m.corners, float), **shape) for m in page.marks}
    return {k: v + (0 if chance is None else chance.normal(0, 0.15, v.shape)) for k, v in found.items()}


def miss_mm(page, **shape):
    fitted = flatten(page, marks_of(page, np.random.default_rng(2), **shape), SIZE)
    off = np.linalg.norm(to_picture(fitted, MIDDLES) - seen(MIDDLES, **shape), axis=1)
    return fitted.shape, float(off.max()) / fitted.pixels_per_mm


def test_a_flat_sheet_is_taken_as_flat(page):
    shape, miss = miss_mm(page)
    assert shape == "flat"
    assert miss < 0.05


@pytest.mark.parametrize("bent", [{"sag": 6.0}, {"k1": 0.12}, {"sag": -5.0, "k1": -0.08}])
def test_a_curled_sheet_or_a_bent_lens_is_followed_within_a_quarter_millimetre(page, bent):
    shape, miss = miss_mm(page, **bent)
    assert shape != "flat"
    assert miss < 0.25


def test_from_paper_to_picture_and_back(page):
    fitted = flatten(page, marks_of(page, sag=6.0, k1=0.1), SIZE)
    assert np.abs(to_paper(fitted, to_picture(fitted, MIDDLES)) - MIDDLES).max() < 0.01


def test_four_corners_given_by_hand_flatten_a_sheet():
    corners = np.array([(0, 0), (148, 0), (148, 210), (0, 210)], float)
    fitted = from_points(corners, seen(corners))
    assert np.abs(to_picture(fitted, MIDDLES) - seen(MIDDLES)).max() < 0.01


def test_a_false_mark_is_left_out(page):
    marks = marks_of(page)
    marks[3] = marks[3] + np.array([150.0, 90.0])
    fitted = flatten(page, marks, SIZE)
    assert np.linalg.norm(to_picture(fitted, MIDDLES) - seen(MIDDLES), axis=1).max() < 0.5


def test_three_marks_are_too_few(page):
    marks = dict(list(marks_of(page).items())[:3])
    with pytest.raises(UnreadablePhoto, match="Only 3 of the 8 corner marks"):
        flatten(page, marks, SIZE, "sheet.jpg")


def test_marks_along_one_side_cannot_place_the_other(page):
    upright = replace(
        page, marks=(*page.marks, Mark(8, tuple((x, y + 40) for x, y in page.marks[0].corners)))
    )
    along = {k: v for k, v in marks_of(upright).items() if k in {0, 6, 7, 8}}
    with pytest.raises(UnreadablePhoto, match="along one side"):
        flatten(upright, along, SIZE)


def test_a_point_outside_the_marks_is_told_by_how_far(page):
    fitted = flatten(page, marks_of(page), SIZE)
    right = max(x for m in page.marks for x, _ in m.corners)
    assert beyond_marks(fitted, (74.0, 105.0)) == 0.0
    assert beyond_marks(fitted, (right + 20.0, 105.0)) == pytest.approx(20.0, abs=0.01)
