"""sRGB values: IEC 61966-2-1, recomputed table; oracles colour-science and coloraide."""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.colour.screen import (
    decode_srgb,
    encode_srgb,
    hex_to_lab,
    lab_to_hex,
    lab_to_p3,
    lab_to_srgb,
    linear_srgb_to_xyz,
    outside_p3,
    outside_srgb,
    srgb_to_lab,
)
from halfpan.core.colour.spaces import D65, xyz_to_lab

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour


@pytest.mark.parametrize(
    ("step", "linear"),
    [(1, 0.000303527), (10, 0.003035270), (11, 0.003346536), (64, 0.051269458), (188, 0.502886458)],
)
def test_decoding_follows_the_standard(step, linear):
    assert decode_srgb(step / 255) == pytest.approx(linear, abs=1e-9)


@given(st.floats(-0.5, 1.5))
def test_encoding_undoes_decoding(value):
    assert encode_srgb(decode_srgb(value)) == pytest.approx(value, abs=2e-6)


@pytest.mark.parametrize(
    ("rgb", "d65", "d50"),
    [
        ((255, 0, 0), (53.2408, 80.0925, 67.2032), (54.2917, 80.8124, 69.8851)),
        ((0, 255, 0), (87.7347, -86.1827, 83.1793), (87.8181, -79.2873, 80.9902)),
        ((0, 0, 255), (32.2970, 79.1875, -107.8602), (29.5676, 68.2986, -112.0294)),
        ((128, 128, 128), (53.5850, 0, 0), (53.5850, 0, 0)),
    ],
)
def test_the_primaries_have_their_known_lab(rgb, d65, d50):
    """Table computed from the matrix with unrounded primaries; 0.02 is the spread of rounded matrices."""
    linear = decode_srgb(np.array(rgb) / 255)
    np.testing.assert_allclose(xyz_to_lab(linear_srgb_to_xyz(linear, D65), D65), d65, atol=0.02)
    np.testing.assert_allclose(srgb_to_lab(np.array(rgb) / 255), d50, atol=0.02)


def test_colour_science_agrees_on_ten_thousand_screen_colours():
    rgb = np.random.default_rng(1).uniform(0, 1, (10_000, 3))
    xyz = colour.sRGB_to_XYZ(rgb)
    np.testing.assert_allclose(linear_srgb_to_xyz(decode_srgb(rgb), D65), xyz, atol=5e-4)


def test_coloraide_agrees_on_display_p3():
    for lab in ((60, 40, -20), (45, -60, 20), (80, 5, 90)):
        oracle = Color("lab", lab).convert("display-p3").coords()
        np.testing.assert_allclose(lab_to_p3(lab), oracle, atol=2e-4)


@pytest.mark.parametrize("text", ["#000000", "#ffffff", "#4682b4", "#c0ffee"])
def test_hex_goes_to_lab_and_back(text):
    assert lab_to_hex(hex_to_lab(text)) == text


def test_a_text_that_is_no_colour_is_refused():
    with pytest.raises(ValueError, match="#rrggbb"):
        hex_to_lab("#12")


def test_a_colour_beyond_the_screen_says_how_far():
    vivid = (50, -60, -30)
    assert outside_srgb(vivid) > 1
    assert outside_p3(vivid) < outside_srgb(vivid)
    assert outside_srgb((50, 10, 10)) == 0
    assert np.any((lab_to_srgb(vivid) < 0) | (lab_to_srgb(vivid) > 1))
