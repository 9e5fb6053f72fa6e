"""The invented studio is whole: each paint has a film, a label in its maker's own scale, an id of its own."""

from __future__ import annotations

import numpy as np

from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.demo.film import film_at, mix_films
from halfpan.demo.pigments import pigment_curves
from halfpan.demo.studio_paints import studio_films, studio_paints

PAPER = np.full(31, 0.89)


def test_there_are_three_makers_and_no_two_paints_share_an_id():
    entries = studio_paints()
    assert {e.paint.maker for e in entries} == {"Larkspur Mill", "Old Quarry", "Tidewater"}
    assert len({e.paint.id for e in entries}) == len(entries) >= 60


def test_every_label_is_printed_in_its_makers_scale_and_names_its_codes():
    for entry in studio_paints():
        label = entry.paint.label
        assert all((label.scales, label.lightfastness, label.transparency, label.granulation))
        assert tuple(label.codes.split()) == entry.paint.codes


def test_a_paint_of_one_pigment_is_made_of_that_pigments_curve():
    codes = {curve.code for curve in pigment_curves().values()}
    assert all(code in codes for entry in studio_paints() for code in entry.paint.codes)


def test_no_paint_leaves_the_paper_as_it_is_and_more_paint_darkens_or_covers():
    for name, film in studio_films().items():
        assert np.allclose(film_at(film, 0.0, PAPER), PAPER), name
        lab = reflectance_to_lab(film_at(film, np.array([0.25, 0.5, 1.0, 2.0]), PAPER))
        assert (np.diff(lab[:, 0]) < 0).all() or film.scattering.min() > 1, name


def test_a_mix_lies_between_its_two_paints():
    films = studio_films()
    yellow, blue = films["lemon-yellow-tidewater"], films["prussian-blue-old-quarry"]
    both = mix_films([yellow, blue], [0.5, 0.5])
    assert np.allclose(both.absorption, (yellow.absorption + blue.absorption) / 2)
    green = reflectance_to_lab(film_at(both, 1.0, PAPER))
    assert green[1] < -10
