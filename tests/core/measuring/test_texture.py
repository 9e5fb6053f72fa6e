"""Laws of graininess and mottle (ISO/IEC 24790, by definition), and what real washes must show."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.colour.screen import encode_srgb
from halfpan.core.measuring.texture import (
    bare_texture,
    density,
    grain_band,
    graininess,
    mottle,
    rim_darkening,
    rms,
    texture_of,
    without_paper,
)
from halfpan.files.photo import load_photo


def noise(rows=360, cols=360, *, sd=0.05, size=6.0, seed=1, level=(0.4, 0.3, 0.5)):
    """A wash with grain of one size, in pixels; ln luminance of standard deviation near ``sd``."""
    field = cv2.GaussianBlur(np.random.default_rng(seed).normal(0, 1, (rows, cols)), (0, 0), size)
    return np.array(level) * np.exp(sd * field / field.std())[..., None]


def test_a_constant_patch_has_no_graininess_and_no_mottle():
    assert graininess(np.full((120, 120), 0.7), 30) == 0
    assert mottle(np.full((120, 120), 0.7), 30) == pytest.approx(0, abs=1e-15)


@given(d=st.floats(0.001, 1), half=st.integers(2, 20))
def test_a_checkerboard_has_the_graininess_of_its_step(d, half):
    tile = 2 * half
    y, x = np.mgrid[: 3 * tile, : 3 * tile]
    board = 0.5 + d * np.where((x + y) % 2 == 0, 1.0, -1.0)
    n = tile * tile
    assert graininess(board, tile) == pytest.approx(d * np.sqrt(n / (n - 1)))
    assert mottle(board, tile) == pytest.approx(0, abs=1e-12)


def test_flat_tiles_that_differ_are_mottle_and_not_grain():
    steps = np.kron(np.random.default_rng(2).random((5, 5)), np.ones((12, 12)))
    assert graininess(steps, 12) == pytest.approx(0, abs=1e-9)
    assert mottle(steps, 12) > 0.1


@given(seed=st.integers(0, 10_000))
def test_the_order_of_tiles_does_not_matter(seed):
    rng = np.random.default_rng(seed)
    tiles = rng.random((9, 8, 8))

    def board(order):
        return tiles[order].reshape(3, 3, 8, 8).transpose(0, 2, 1, 3).reshape(24, 24)

    first, second = board(np.arange(9)), board(rng.permutation(9))
    assert graininess(first, 8) == pytest.approx(graininess(second, 8))
    assert mottle(first, 8) == pytest.approx(mottle(second, 8))


@given(scale=st.floats(0.01, 100), seed=st.integers(0, 1000))
def test_graininess_and_mottle_grow_with_the_unit(scale, seed):
    values = np.random.default_rng(seed).random((32, 32))
    assert graininess(values * scale, 8) == pytest.approx(scale * graininess(values, 8))
    assert mottle(values * scale, 8) == pytest.approx(scale * mottle(values, 8))


def test_a_piece_smaller_than_a_tile_is_refused():
    with pytest.raises(ValueError, match="tile"):
        graininess(np.zeros((10, 10)), 30)


def test_paper_is_taken_off_in_quadrature_and_never_below_nought():
    assert without_paper(0.05, 0.03) == pytest.approx(0.04)
    assert without_paper(0.02, 0.03) == 0


def test_density_of_a_tenth_is_one():
    assert density(np.full((2, 2, 3), 0.1)) == pytest.approx(1.0)


@pytest.mark.parametrize("level", [0.05, 0.2, 0.8])
def test_grain_is_judged_alike_in_dark_and_in_pale_washes(level):
    texture = texture_of(noise(level=(level,) * 3), 12.0)
    assert texture.granulation == pytest.approx(texture_of(noise(), 12.0).granulation, rel=0.02)


def test_a_wash_made_of_paper_texture_alone_does_not_granulate():
    under = noise(sd=0.03, level=(1, 1, 1))
    painted = under * np.array([0.4, 0.3, 0.5])
    assert texture_of(painted, 12.0, bare_texture(under, 12.0)).granulation == pytest.approx(0, abs=1e-3)
    assert texture_of(painted, 12.0).granulation > 0.02


def test_a_slow_gradient_is_unevenness_and_hardly_grain():
    slope = np.exp(np.linspace(-0.3, 0.3, 360))[None, :, None] * np.full((360, 360, 3), 0.4)
    texture = texture_of(slope, 12.0)
    assert texture.granulation < 0.01
    assert texture.unevenness > 0.1


@pytest.mark.parametrize("pixels_per_mm", [23.6, 11.8, 7.9, 5.9])
def test_grain_of_one_millimetre_is_the_same_at_any_resolution(pixels_per_mm):
    fine = noise(700, 700, size=9.0)
    shrink = pixels_per_mm / 23.6
    piece = cv2.resize(fine, None, fx=shrink, fy=shrink, interpolation=cv2.INTER_AREA)
    assert rms(grain_band(piece, pixels_per_mm)) == pytest.approx(rms(grain_band(fine, 23.6)), rel=0.05)


def test_what_is_too_small_or_too_coarse_is_unknown():
    assert texture_of(noise(30, 30), 12.0).granulation is None
    assert texture_of(noise(), 2.0).granulation is None


@pytest.mark.parametrize("blur", [0.08, 0.14])
def test_a_blur_that_is_known_does_not_smooth_the_grain(blur):
    """Blurs add in quadrature, so one that is known is left out of the one that is put in."""
    sharp = noise(size=2.5)
    soft = cv2.GaussianBlur(sharp, (0, 0), blur * 12.0)
    assert texture_of(soft, 12.0).granulation < 0.97 * texture_of(sharp, 12.0).granulation
    known = texture_of(soft, 12.0, blur_mm=blur).granulation
    assert known == pytest.approx(texture_of(sharp, 12.0).granulation, rel=0.015)


def test_a_picture_softer_than_the_finest_grain_leaves_it_unknown():
    assert texture_of(noise(), 12.0, blur_mm=0.26).granulation is None
    assert bare_texture(noise(), 12.0, blur_mm=0.26) is None


def test_two_paints_that_part_company_show_as_separation():
    rng = np.random.default_rng(4)
    first = cv2.GaussianBlur(rng.normal(0, 1, (360, 360)), (0, 0), 6)
    second = cv2.GaussianBlur(rng.normal(0, 1, (360, 360)), (0, 0), 6)
    first, second = first / first.std(), second / second.std()
    one = np.array([0.4, 0.3, 0.5]) * np.exp(0.06 * first[..., None] * np.array([1.0, 1.1, 0.9]))
    two = np.array([0.4, 0.3, 0.5]) * np.exp(
        0.06 * first[..., None] * np.array([1.5, 0.7, 0.3])
        + 0.06 * second[..., None] * np.array([0.2, 0.7, 1.5])
    )
    assert texture_of(two, 12.0).separation > 2 * texture_of(one, 12.0).separation


def stroke(rim: float, *, ragged: float = 0.0, level: float = 0.5):
    """A stroke of 16 x 5 mm with 1.2 mm of bare paper on both sides, at 6 pixels a mm; a rim of 0.8 mm."""
    rows, cols = 30, 110
    inside = np.minimum(np.arange(cols) - 7, cols - 8 - np.arange(cols)) / 6.0
    shift = np.random.default_rng(5).normal(0, ragged, (rows, 1))
    depth = inside[None, :] + shift
    dark = np.where(depth < 0, 0.0, -np.log(level) + np.where(depth < 0.8, rim, 0.0))
    return np.exp(-dark)[..., None] * np.ones(3)


@pytest.mark.parametrize("rim", [0.0, 0.15, 0.3, -0.1])
def test_a_rim_is_as_dark_as_it_was_laid(rim):
    value, within = rim_darkening(stroke(rim), 6.0)
    assert value == pytest.approx(rim, abs=0.01)
    assert within < 0.02


def test_a_ragged_rim_is_found_row_by_row():
    value, within = rim_darkening(stroke(0.2, ragged=0.3), 6.0)
    assert abs(value - 0.2) <= max(within, 0.03)


def test_a_rim_is_unknown_where_the_wash_is_too_pale_the_picture_too_coarse_or_no_edge_in_sight():
    assert rim_darkening(stroke(0.2, level=0.95), 6.0) is None
    assert rim_darkening(stroke(0.2), 4.0) is None
    assert rim_darkening(stroke(0.2)[:, 12:-12], 6.0) is None


def wash(shared_data, name):
    photo = load_photo(shared_data / "washes" / f"{name}.jpg")
    return np.stack([photo.decode[photo.pixels[..., c], c] for c in range(3)], axis=-1).astype(float)


@pytest.mark.shared
def test_real_washes_rank_from_flat_to_textured(shared_data):
    """As the scans look: nearly bare paper, an even brown, a clouded grey, a grainy turquoise."""
    grain = [
        texture_of(wash(shared_data, name), 600 / 25.4).granulation
        for name in ("beige_white_02", "brown_42", "gray_lavender_01", "turquoise_27")
    ]
    assert grain == sorted(grain)
    assert grain[1] > 3 * grain[0]


@pytest.mark.shared
@pytest.mark.parametrize("name", ["brown_42", "green_14", "turquoise_27", "blue_16"])
def test_granulation_of_a_real_wash_does_not_hang_on_resolution_or_camera(shared_data, name):
    fine = wash(shared_data, name)
    scanned = texture_of(fine, 600 / 25.4).granulation
    coarse = cv2.resize(fine, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA)
    assert texture_of(coarse, 150 / 25.4).granulation == pytest.approx(scanned, rel=0.15)
    small = cv2.resize(fine, None, fx=8 * 25.4 / 600, fy=8 * 25.4 / 600, interpolation=cv2.INTER_AREA)
    small = cv2.GaussianBlur(small, (0, 0), 0.7) + np.random.default_rng(1).normal(0, 0.006, small.shape)
    pixels = np.rint(encode_srgb(np.clip(small, 0, 1)) * 255) / 255
    from halfpan.core.colour.screen import decode_srgb

    assert texture_of(decode_srgb(pixels), 8.0).granulation == pytest.approx(scanned, rel=0.15)
