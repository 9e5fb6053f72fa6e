"""Pictures as numbers: light looked up place by place, and smaller pictures of the same thing."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.measuring.photo import Photo, light_and_ends, reduced

from .small_sheet import SRGB


def noisy(level, size, dtype=np.uint8):
    rng = np.random.default_rng(5)
    return np.clip(np.rint(rng.normal(level, 3, (size, size, 3))), 0, np.iinfo(dtype).max).astype(dtype)


@pytest.mark.parametrize("size", [1000, 1500, 2000, 3000])
def test_a_smaller_picture_is_neither_lighter_nor_darker(size):
    """Averaged twice, roundings add up unless they go both ways: a hundredth of a step is 0.01 % of light."""
    pixels = noisy(200, size)
    small, scale = reduced(Photo(pixels, SRGB), 500)
    factor = round(1 / scale)
    assert small.shape == (size // factor, size // factor)
    squares = pixels[: small.shape[0] * factor, : small.shape[1] * factor].astype(float)
    true = squares.reshape(small.shape[0], factor, small.shape[1], factor, 3).mean((1, 3))
    assert (small.pixels - true).mean() == pytest.approx(0, abs=0.01 if factor > 2 else 0.13)
    assert np.abs(small.pixels - true).max() <= 1.0


def test_a_smaller_picture_is_the_same_whether_red_or_blue_comes_first():
    pixels = noisy(120, 2000)
    red = reduced(Photo(pixels, SRGB), 500)[0].pixels
    blue = reduced(Photo(np.ascontiguousarray(pixels[..., ::-1])[..., ::-1], SRGB), 500)[0].pixels
    assert np.array_equal(red, blue)


def test_light_is_that_of_the_nearest_pixel_through_its_channels_own_table():
    tables = np.stack([np.linspace(0, top, 256) for top in (1.0, 0.5, 0.25)], axis=-1).astype(np.float32)
    pixels = np.arange(75, dtype=np.uint8).reshape(5, 5, 3)
    light, high, low = light_and_ends(Photo(pixels, tables, clip_level=70), np.array([[[3.4, 0.6]]]))
    assert light.shape == (1, 1, 3)
    assert light[0, 0] == pytest.approx(pixels[3, 1] / 255 * [1.0, 0.5, 0.25], rel=1e-5)
    assert not high.any()
    assert not low.any()


def test_places_outside_and_unknown_places_give_no_light():
    photo = Photo(np.full((4, 4, 3), 128, np.uint8), SRGB)
    places = np.array([[1.0, 1.0], [-0.6, 1.0], [1.0, 3.6], [np.nan, 1.0], [np.inf, 0.0]])
    light, high, _ = light_and_ends(photo, places)
    assert np.isfinite(light[0]).all()
    assert np.isnan(light[1:]).all()
    assert high[1:].all()
    assert not high[0].any()
