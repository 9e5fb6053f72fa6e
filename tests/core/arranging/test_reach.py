"""The room that colours take: against geometry, and against what mixes of three paints really give."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfpan.core.arranging.choosing import choose
from halfpan.core.arranging.reach import BAND, CORE, SECTOR, reach_table
from halfpan.core.colour.spaces import lab_to_lch, lch_to_lab
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.film import film_over
from halfpan.demo.studio_paints import studio_paints

VOLUME = CORE**2 / 2 * np.radians(SECTOR) * BAND  # of one cell, in cubic units of Lab


def of_one(lch):
    """The table of one paint that gives these colours, as so many strengths of one share."""
    return reach_table([(0, 0)], lch_to_lab(lch).reshape(1, 1, -1, 3), 1)


@pytest.mark.parametrize("chroma", [20.0, 45.0, 80.0])
def test_cells_fill_a_cylinder_as_geometry_says(chroma):
    """Elementary geometry: a cylinder of radius C and height L holds pi C^2 L; cells are rounded down."""
    hue, lightness = np.meshgrid(np.arange(0.5, 360, 3), np.arange(18.0, 80, 4))
    lch = np.stack([lightness, np.full_like(hue, chroma), hue], axis=-1)
    room = np.pi * chroma**2 * (80 - 16)
    count = of_one(lch.reshape(-1, 3)).count([0])
    assert count * VOLUME <= room
    directions = 360 / SECTOR * (80 - 16) / BAND
    assert count * VOLUME > room - directions * VOLUME


def test_what_is_duller_counts_as_reached_and_what_is_stronger_does_not():
    table = of_one([[50.0, 60.0, 100.0]])
    both = reach_table([(0, 0), (1, 1)], lch_to_lab([[[[50, 60.0, 100]]], [[[50, 30.0, 100]]]]), 2)
    assert both.count([0, 1]) == both.count([0]) == table.count([0]) > both.count([1]) > 0
    lightness, chroma, hue = np.moveaxis(lab_to_lch(table.cells), -1, 0)
    assert chroma.max() <= 60
    assert chroma.max() > 55
    assert np.all(np.abs(lightness - 50) <= BAND)
    assert np.all(np.abs(hue - 100) <= SECTOR)


def test_an_even_grey_reaches_nothing():
    assert of_one([[L, 2.0, 100.0] for L in range(20, 90, 10)]).count([0]) == 0


@settings(max_examples=50, deadline=None)
@given(st.integers(0, 10_000))
def test_a_colour_more_never_takes_room_away(seed):
    rng = np.random.default_rng(seed)
    lab = np.stack([rng.uniform(10, 95, 30), *rng.uniform(-80, 80, (2, 30))], axis=-1)
    pairs, colours = [(i, i) for i in range(30)], lab.reshape(30, 1, 1, 3)
    table = reach_table(pairs, colours, 30)
    counts = [table.count(range(n)) for n in range(31)]
    assert counts == sorted(counts)


SHARES = np.array([0, 1 / 9, 1 / 5, 1 / 3, 1 / 2, 2 / 3, 4 / 5, 8 / 9, 1])
STRENGTHS = 0.5 ** np.arange(0, 4.5, 0.5)


def mixed(films, paints, parts):
    """Colours of paints mixed in some parts, shape (parts, strengths, 3)."""
    absorption, scattering = (
        STRENGTHS[:, None] * (parts @ np.array([getattr(films[p], of) for p in paints]))[:, None]
        for of in ("absorption", "scattering")
    )
    return reflectance_to_lab(film_over(absorption, scattering, np.full(absorption.shape[-1], 0.86)))


@pytest.mark.parametrize(("count", "least"), [(6, 0.95), (12, 0.98)])
def test_the_duller_colours_that_count_are_what_a_third_paint_gives(count, least):
    """The mixing model itself, asked for every three of a set: it reaches the cells that counted."""
    films = [entry.film for entry in studio_paints()][:40]
    pairs = [(i, j) for i in range(40) for j in range(i, 40)]
    two = np.stack([1 - SHARES, SHARES], axis=-1)
    table = reach_table(pairs, np.stack([mixed(films, pair, two) for pair in pairs]), 40)
    chosen = choose(table, count, sets=1)[0].paints
    steps = range(21)
    three = np.array([(i, j, 20 - i - j) for i in steps for j in steps if i + j <= 20]) / 20
    colours = np.concatenate([mixed(films, some, three).reshape(-1, 3) for some in combinations(chosen, 3)])
    given_ = set(map(tuple, places(colours)))
    counted = places(table.cells[table.reached(chosen)] * [1, 0.999, 0.999])
    share = np.mean([tuple(place) in given_ for place in counted])
    assert share > least


def places(lab):
    """Where colours lie: band of lightness, sector of hue, ring of 8 of chroma."""
    lightness, chroma, hue = np.moveaxis(lab_to_lch(lab), -1, 0)
    found = [lightness // BAND, hue // SECTOR, chroma // 8]
    return np.stack(found, axis=-1).astype(int)
