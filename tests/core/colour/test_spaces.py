"""CIE 015, ISO/CIE 11664-4 (exact fractions), ICC.1 Annex E; oracles colour-science, coloraide."""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from halfpan.core.colour.spaces import (
    D50,
    D65,
    adapt_xyz,
    adaptation,
    lab_to_lch,
    lab_to_xyz,
    lch_to_lab,
    xyz_to_lab,
)

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

LAB = arrays(float, (4, 3), elements=st.floats(-120, 120, allow_nan=False, allow_subnormal=False)).map(
    lambda a: np.column_stack([np.abs(a[:, 0]) / 1.2, a[:, 1:]])
)


@pytest.mark.parametrize(
    ("luminance", "lightness"),
    [(0, 0), (0.001, 0.903296), (216 / 24389, 8), (0.18, 49.496108), (0.5, 76.069261), (1, 100)],
)
def test_lightness_follows_the_published_curve(luminance, lightness):
    assert xyz_to_lab(luminance * D50)[0] == pytest.approx(lightness, abs=5e-7)


@given(LAB)
def test_lab_goes_to_xyz_and_back(lab):
    np.testing.assert_allclose(xyz_to_lab(lab_to_xyz(lab)), lab, atol=1e-9)


@given(LAB)
def test_lab_goes_to_lch_and_back(lab):
    np.testing.assert_allclose(lch_to_lab(lab_to_lch(lab)), lab, atol=1e-9)


def test_bradford_matrix_is_the_published_one():
    expected = [
        [1.04781124, 0.02288660, -0.05012698],
        [0.02954240, 0.99048440, -0.01704910],
        [-0.00923449, 0.01504362, 0.75213164],
    ]
    np.testing.assert_allclose(adaptation(D65, D50), expected, atol=1e-8)


def test_adapting_there_and_back_changes_nothing():
    xyz = np.array([[0.2, 0.3, 0.1], [0.9, 1.0, 0.8]])
    np.testing.assert_allclose(adapt_xyz(adapt_xyz(xyz, D50, D65), D65, D50), xyz, atol=1e-12)


def test_colour_science_agrees_on_ten_thousand_colours():
    xyz = np.random.default_rng(1).uniform(0, 1, (10_000, 3))
    xy = colour.XYZ_to_xy(D50)
    np.testing.assert_allclose(xyz_to_lab(xyz), colour.XYZ_to_Lab(xyz, xy), atol=1e-9)


def test_coloraide_agrees_on_lab_under_d65():
    white = np.array(Color("white").convert("xyz-d65").coords())
    for xyz in np.random.default_rng(2).uniform(0, 1, (500, 3)):
        np.testing.assert_allclose(
            xyz_to_lab(xyz, white), Color("xyz-d65", xyz).convert("lab-d65").coords(), atol=1e-6
        )
