"""Corners of printed marks, where their sides meet: truth is known because the mark was drawn there."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from halfpan.core.measuring.corners import refined
from halfpan.core.measuring.photo import Photo

from .small_sheet import SRGB, shoot

FINE = 8
"""A mark is drawn so many times finer than the picture and averaged down."""

PLACES = np.array([[(40.3, 52.6), (44.1, 122.9), (115.7, 118.2), (111.2, 49.8)]])
"""Corners (row, col) of a mark that is turned and leans a little, clockwise from its top left."""


def picture(blur=0.0, noise=0.0, *, places=PLACES, size=(160, 170), cover=None):
    """A mark of 6 x 6 modules on paper, its print of 4 %, as a camera holds it."""
    words = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    drawn = cv2.aruco.generateImageMarker(words, 3, 600).astype(np.float32) / 255
    ends = np.array([(-0.5, -0.5), (599.5, -0.5), (599.5, 599.5), (-0.5, 599.5)], dtype=np.float32)
    onto = ((places[0][:, ::-1] + 0.5) * FINE - 0.5).astype(np.float32)
    shape = cv2.getPerspectiveTransform(ends, onto)
    wide = cv2.warpPerspective(drawn, shape, (size[1] * FINE, size[0] * FINE), borderValue=1.0)
    light = cv2.resize(wide, size[::-1], interpolation=cv2.INTER_AREA)
    light = 0.04 + 0.88 * np.repeat(light[..., None], 3, axis=-1)
    if cover is not None:
        light[cover] = 0.04
    return shoot(light, blur=blur, noise=noise)


@pytest.mark.parametrize("blur", [0.0, 0.7, 1.2, 2.0])
def test_a_corner_stands_where_it_was_drawn_however_soft_the_picture(blur):
    found = refined(picture(blur, noise=1.0), PLACES + 0.8)
    assert np.abs(found - PLACES).max() < 0.1


def test_soft_edges_in_stored_values_would_have_made_the_mark_smaller():
    """What is avoided: where the stored values are halfway, a dark mark is narrower than it was drawn."""
    photo = picture(1.2)
    straight = Photo(photo.pixels, np.repeat(np.linspace(0, 1, 256)[:, None], 3, axis=1).astype(np.float32))
    side = [
        np.linalg.norm(found[0, 1] - found[0, 0]) for found in (refined(p, PLACES) for p in (photo, straight))
    ]
    assert side[1] < side[0] - 0.5


def test_marks_are_placed_together_as_each_alone():
    photo = picture(0.8, noise=1.0)
    both = refined(photo, np.concatenate([PLACES + 0.5, PLACES - 0.7]))
    assert both[0] == pytest.approx(refined(photo, PLACES + 0.5)[0])
    assert both[1] == pytest.approx(refined(photo, PLACES - 0.7)[0])


def test_a_mark_keeps_its_first_guess_where_a_side_is_covered():
    covered = picture(0.8, cover=np.s_[:, 100:])
    assert refined(covered, PLACES + 0.5) == pytest.approx(PLACES + 0.5)


def test_a_mark_keeps_its_first_guess_at_the_rim_of_the_picture_or_where_it_is_too_small():
    photo = picture(0.8)
    rim = Photo(photo.pixels[40:], SRGB)
    assert refined(rim, PLACES - (40, 0)) == pytest.approx(PLACES - (40, 0))
    small = (PLACES - PLACES.mean(1)) / 6 + PLACES.mean(1)
    assert refined(picture(places=small), small + 0.3) == pytest.approx(small + 0.3)


def test_what_lies_too_far_from_the_first_guess_is_not_the_mark():
    assert refined(picture(0.8), PLACES + 5.0) == pytest.approx(PLACES + 5.0)
