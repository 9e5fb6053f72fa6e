"""Spectra to colours: CIE 015 white points; colour-science's summation as oracle; measured fading."""

from __future__ import annotations

import csv
import warnings

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spaces import D50, xyz_to_lab
from halfpan.core.colour.spectra import (
    BANDS,
    reflectance_to_lab,
    reflectance_to_xyz,
    spectrum_to_xyz,
    white_of,
)

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour


@pytest.mark.parametrize(
    ("illuminant", "observer", "x", "z"),
    [
        ("A", 2, 1.0985, 0.3558),
        ("C", 2, 0.9807, 1.1822),
        ("D50", 2, 0.9642, 0.8251),
        ("D65", 2, 0.9504, 1.0888),
        ("D50", 10, 0.9672, 0.8143),
        ("D65", 10, 0.9481, 1.0732),
    ],
)
def test_a_perfect_white_has_the_published_white_point(illuminant, observer, x, z):
    """CIE 015:2004, Table T.3."""
    np.testing.assert_allclose(white_of(illuminant, observer), (x, 1, z), atol=1e-4)


def test_reflectance_one_is_exactly_the_white_of_the_lab():
    np.testing.assert_allclose(reflectance_to_xyz(np.ones(31)), D50, atol=1e-12)
    np.testing.assert_allclose(reflectance_to_lab(np.full((2, 31), 0.18))[:, 1:], 0, atol=1e-9)


def test_colour_science_agrees_on_smooth_spectra():
    centres = np.random.default_rng(1).uniform(420, 680, 12)
    for centre in centres:
        values = 0.08 + 0.8 / (1 + np.exp((BANDS - centre) / 18))
        sd = colour.SpectralDistribution(values, BANDS)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            d50 = colour.SDS_ILLUMINANTS["D50"]
            oracle = colour.sd_to_XYZ(sd, illuminant=d50, method="Integration") / 100
        ours = reflectance_to_xyz(values)
        assert delta_e_2000(xyz_to_lab(ours), xyz_to_lab(oracle)) < 0.12


@pytest.mark.shared
@pytest.mark.parametrize("run", ["blue_wool_1", "blue_wool_2", "blue_wool_3", "vermilion_on_paper"])
def test_measured_fading_spectra_give_the_instruments_own_lab(shared_data, run):
    """Micro-fading runs with Lab under D65, 10 degrees by the instrument; 0.11 is the 5 nm thinning."""
    with (shared_data / "fading" / f"{run}.csv").open(encoding="utf-8") as lines:
        rows = list(csv.reader(line for line in lines if not line.startswith("#")))
    head = rows[0]
    bands = [i for i, name in enumerate(head) if name.strip("R_nm").replace(".", "").isdigit()]
    wavelengths = np.array([float(head[i].strip("R_nm")) for i in bands])
    lab_columns = [next(i for i, name in enumerate(head) if name.startswith(letter)) for letter in "Lab"]
    table = np.array(rows[1:], dtype=float)
    xyz = spectrum_to_xyz(table[:, bands], wavelengths, "D65", 10)
    lab = xyz_to_lab(xyz, white_of("D65", 10))
    assert np.abs(lab - table[:, lab_columns]).max() < 0.11
