"""Measured micro-fading runs: colours from the spectra agree with the file, order of the wools.

Source: runs published with an open package for micro-fading, thinned to 40 steps (../shared/data/SOURCES.md);
figures of agreement there: Lab within 0.11, dE00 within 0.041. Nothing fitted to them is kept anywhere.
"""

import csv
from itertools import pairwise

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.colour.spectra import spectrum_to_xyz, white_of
from halfpan.core.fading.course import LIMITS, Look, passed
from halfpan.core.fading.halves import Halves, fading
from halfpan.core.paint.reading import Reading

RUNS = ("blue_wool_1", "blue_wool_2", "blue_wool_3", "vermilion_on_paper", "yellowwood_dye")


@pytest.fixture
def run(shared_data):
    """A run as (dose, Lab of the file, dE00 of the file, Lab from the spectra), D65, 10 degrees."""

    def load(name):
        rows = list(csv.DictReader((shared_data / "fading" / f"{name}.csv").read_text("utf-8").splitlines()))
        bands = [key for key in rows[0] if key.startswith("R_")]
        waves = np.array([float(key[2:]) for key in bands])
        spectra = np.array([[float(row[key]) for key in bands] for row in rows])
        xyz = spectrum_to_xyz(spectra, waves, illuminant="D65", observer=10)
        lab = xyz_to_lab(xyz, white_of("D65", 10))
        dose = np.array([float(row["dose_Mlxh"]) for row in rows])
        filed = np.array([[float(row[key]) for key in "Lab"] for row in rows])
        return dose, filed, np.array([float(row["dE00"]) for row in rows]), lab

    return load


def looks_of(dose, lab):
    """Each step of a run read by an instrument against its start; days stand for the dose."""
    zero = Reading("1", "P", "kept", tuple(lab[0]), 0.1, "instrument")
    return [
        Look(float(at), fading(Halves(zero, Reading("1", "P", "exposed", tuple(one), 0.1, "instrument"))))
        for at, one in zip(dose, lab, strict=True)
    ]


@pytest.mark.parametrize("name", RUNS)
def test_colours_and_changes_from_the_spectra_agree_with_the_file(run, name):
    dose, filed, change, lab = run(name)
    assert np.abs(lab - filed).max() < 0.11
    looks = looks_of(dose, lab)
    assert max(abs(look.fading.delta_e_00 - one) for look, one in zip(looks, change, strict=True)) < 0.041
    assert [look.fading.delta_e_00 for look in looks] == pytest.approx(delta_e_2000(lab, lab[0]), abs=1e-9)


def test_blue_wool_1_fades_faster_than_2_and_2_faster_than_3(run):
    changes = [looks_of(*run(f"blue_wool_{n}")[::3]) for n in (1, 2, 3)]
    last = [looks[-1].fading.delta_e_ab for looks in changes]
    assert last[0] > last[1] > last[2]
    just_seen = [passed(looks, LIMITS[0]).by for looks in changes]
    assert just_seen[0] is not None
    assert all(later is None or earlier < later for earlier, later in pairwise(just_seen))
    assert last[0] > LIMITS[1]
