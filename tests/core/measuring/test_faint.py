"""What a picture may have smoothed away of faint grain."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from halfpan.core.chart.sheet import Rect
from halfpan.core.colour.screen import decode_srgb
from halfpan.core.measuring.faint import (
    MOST_PUT_RIGHT,
    SMOOTHED_PX,
    figure_or_limit,
    given_back,
    pixels_apart,
    smoothed_mm,
)
from halfpan.core.measuring.flatten import Flattening
from halfpan.core.measuring.photo import Photo
from halfpan.core.measuring.texture import Texture, bare_texture, texture_of

PER_MM = 8.0
RECT = Rect(2.0, 2.0, 16.0, 16.0)


def photo_of(level: np.ndarray, dtype=np.uint8) -> Photo:
    top = np.iinfo(dtype).max
    table = decode_srgb(np.arange(top + 1) / top).astype(np.float32)
    pixels = np.repeat(np.clip(np.rint(level / 255 * top), 0, top).astype(dtype)[..., None], 3, axis=-1)
    return Photo(pixels, np.repeat(table[:, None], 3, axis=1))


@pytest.fixture
def flat() -> Flattening:
    """Millimetres to pixels, straight on."""
    onto = np.array([[PER_MM, 0.0, -0.5], [0.0, PER_MM, -0.5], [0.0, 0.0, 1.0]])
    return Flattening(onto, None, (0.0, 0.0), "flat", 0.0, PER_MM)


def grain(steps: float, seed: int = 3) -> np.ndarray:
    return 200 + steps * np.random.default_rng(seed).standard_normal((160, 160))


def test_pixels_stand_apart_by_what_is_not_their_neighbours(flat):
    """White noise of one SD, less the mean of 25: 1 - 1/25 of its variance; a slope leaves nothing."""
    assert pixels_apart(photo_of(grain(4.0)), flat, RECT) == pytest.approx(4.0 * np.sqrt(0.96), rel=0.05)
    slope = np.tile(np.linspace(100, 200, 160), (160, 1))
    assert pixels_apart(photo_of(slope), flat, RECT) == pytest.approx(1 / np.sqrt(12), rel=0.1)  # rounding


def test_a_picture_of_finer_steps_drops_nothing(flat):
    assert pixels_apart(photo_of(grain(4.0), np.uint16), flat, RECT) is None


def test_a_piece_outside_the_picture_tells_nothing(flat):
    assert pixels_apart(photo_of(grain(4.0)), flat, Rect(40.0, 40.0, 5.0, 5.0)) is None


def test_the_fainter_the_grain_the_more_smoothing_it_is_credited_with():
    faint, middling, strong = (smoothed_mm(steps, 0.3, PER_MM) for steps in (0.3, np.hypot(1, 0.3), 3.0))
    assert faint == pytest.approx(SMOOTHED_PX / PER_MM)
    assert middling == pytest.approx(faint / np.sqrt(2))
    assert strong < 0.12 * faint


def piece(sd: float, smoothed_px: float = 0.0) -> np.ndarray:
    light = cv2.GaussianBlur(np.random.default_rng(5).standard_normal((120, 120)), (0, 0), 1.5)
    light = 0.6 * np.exp(sd * light / light.std())
    if smoothed_px:
        light = cv2.GaussianBlur(light, (0, 0), smoothed_px)
    return np.repeat(light[..., None], 3, axis=-1)


def test_grain_that_was_smoothed_is_read_as_it_was():
    scale, paper = 6.0, piece(0.003)
    lost = SMOOTHED_PX / scale
    known = texture_of(piece(0.02), scale, bare_texture(paper, scale))
    smoothed = texture_of(piece(0.02, SMOOTHED_PX), scale, bare_texture(paper, scale))
    back, added = given_back(smoothed, piece(0.02, SMOOTHED_PX), paper, scale, blur_mm=0.0, lost_mm=lost)
    assert smoothed.granulation < 0.9 * known.granulation
    assert back.granulation == pytest.approx(known.granulation, rel=0.05)
    assert added == pytest.approx(back.granulation / smoothed.granulation - 1)
    assert back.granulation_within > smoothed.granulation_within


def test_a_smoothing_over_the_finest_grain_leaves_no_figure():
    texture = texture_of(piece(0.02), 6.0)
    back, _ = given_back(texture, piece(0.02), None, 6.0, blur_mm=0.2, lost_mm=0.2)
    assert back.granulation is None
    assert back.granulation_up_to is None


def test_faint_grain_that_was_much_put_right_has_a_limit_and_no_figure():
    texture = Texture(granulation=0.014, granulation_within=0.005)
    limit = figure_or_limit(texture, MOST_PUT_RIGHT + 0.01, 0.7, 0.3)
    assert limit.granulation is None
    assert limit.granulation_up_to == pytest.approx(0.019)
    assert figure_or_limit(texture, MOST_PUT_RIGHT - 0.01, 0.7, 0.3) == texture
    assert figure_or_limit(texture, MOST_PUT_RIGHT + 0.01, 1.7, 0.3) == texture
