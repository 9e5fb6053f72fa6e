"""The blur of a picture, told by the sides of its marks: it was blurred by so much."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.measuring.page import see_page
from halfpan.core.measuring.photo import Photo
from halfpan.core.measuring.softness import blur_mm

from .small_sheet import SRGB, shoot, tilted


def seen(painted, page, blur, *, noise=1.0):
    homography, size = tilted(painted, 1.0, 0.08, 4)
    return see_page(shoot(painted, homography=homography, size=size, blur=blur, noise=noise), page)


@pytest.mark.parametrize("blur", [0.7, 1.0, 1.4])
def test_the_blur_that_was_put_in_is_told(page, painted, blur):
    """A pixel's own width and the drawing's of its neighbours add a third of a pixel or so each."""
    found = seen(painted, page, blur)
    told = blur_mm(found.photo, found.flattening, page) * found.flattening.pixels_per_mm
    assert np.hypot(blur, 0.29) - 0.1 < told < np.hypot(blur, 0.6) + 0.1


def test_a_sharper_picture_is_told_from_a_softer_one_through_noise(page, painted):
    told = [
        blur_mm(one.photo, one.flattening, page)
        for one in (seen(painted, page, blur, noise=3.0) for blur in (0.6, 1.0, 1.4))
    ]
    assert told == sorted(told)
    assert told[2] > 1.4 * told[0]


def test_where_no_mark_shows_its_sides_the_blur_is_unknown(page, painted):
    found = seen(painted, page, 0.8)
    grey = Photo(np.full_like(found.photo.pixels, 128), SRGB)
    assert blur_mm(grey, found.flattening, page) is None
