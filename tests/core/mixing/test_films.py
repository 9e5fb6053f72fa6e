"""Rows of films: slopes against finite differences, and what a recipe must not depend on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.coats import colours, colours_and_slopes, curves_of, spectra
from halfpan.core.mixing.film import behind_surface, film_over, through_surface
from halfpan.core.mixing.films import Films, arrange
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.observation import BLACK_LINE, PLAIN_PAPER, Recipe
from halfpan.core.mixing.prior import Prior, basis_of

PAINTS = ("blue", "rose", "yellow")
ROWS = {paint: i for i, paint in enumerate(PAINTS)}
PRIOR = Prior()


def some_paints(seed: int) -> np.ndarray:
    return np.random.default_rng(seed).normal(size=(3, basis_of(PRIOR).per_paint))


def colour(recipe: Recipe, seed: int, prior: Prior = PRIOR) -> np.ndarray:
    return colours(arrange([recipe], ROWS, 1.0), some_paints(seed), prior)[0]


seeds = st.integers(0, 1000)
amount = st.floats(0.05, 30)


@given(seeds, amount, amount, amount)
def test_the_order_of_parts_does_not_matter(seed, a, b, c):
    parts = [("blue", a), ("rose", b), ("yellow", c)]
    one, other = Recipe((tuple(parts),)), Recipe((tuple(parts[::-1]),))
    assert np.allclose(colour(one, seed), colour(other, seed), atol=1e-9)


@given(seeds, amount, amount)
def test_a_part_of_nothing_changes_nothing(seed, a, b):
    with_none = Recipe(((("blue", a), ("yellow", 0.0), ("rose", b)),))
    assert np.allclose(
        colour(with_none, seed), colour(Recipe(((("blue", a), ("rose", b)),)), seed), atol=1e-9
    )


@given(seeds, amount, amount)
def test_paint_laid_over_nothing_is_that_paint(seed, a, b):
    one = Recipe(((("blue", a),),))
    assert np.allclose(colour(Recipe(((("rose", 0.0),), (("blue", a),))), seed), colour(one, seed), atol=1e-9)
    assert np.allclose(
        colour(Recipe(((("blue", a),), (("rose", 0.0 * b),))), seed), colour(one, seed), atol=1e-9
    )


def test_no_paint_at_all_gives_the_paper():
    assert np.allclose(colour(Recipe(((("blue", 0.0),),)), 1), PLAIN_PAPER, atol=1e-6)


@given(seeds, amount, amount)
def test_reflectance_stays_between_nothing_and_all(seed, a, b):
    films = arrange([Recipe(((("blue", a), ("rose", b)),)), Recipe(((("blue", a),),), BLACK_LINE)], ROWS, 1.0)
    found = spectra(films, some_paints(seed), PRIOR)
    assert found.min() >= 0
    assert found.max() <= 1


def test_one_even_wash_is_the_film_of_its_thickness():
    # Oracle: the film model called by hand with K and S of the paint times amount to the exponent.
    prior = replace(PRIOR, uneven=0.0)
    paints = some_paints(3)
    K, S = curves_of(paints, prior)
    exponent = prior.exponent * np.exp(prior.exponent_spread * paints[1, -1])
    thick = prior.reference_amount * (6 / prior.reference_amount) ** exponent
    ground = behind_surface(ground_reflectance(PLAIN_PAPER), prior.surface, prior.inside)
    expected = through_surface(film_over(thick * K[1], thick * S[1], ground), prior.surface, prior.inside)
    assert np.allclose(colour(Recipe(((("rose", 6.0),),)), 3, prior), reflectance_to_lab(expected), atol=1e-9)


def test_the_order_of_layers_matters():
    under = Recipe(((("blue", 4.0),), (("yellow", 4.0),)))
    over = Recipe(((("yellow", 4.0),), (("blue", 4.0),)))
    assert np.abs(colour(under, 5) - colour(over, 5)).max() > 1


@settings(max_examples=25)
@given(seeds, st.sampled_from([0.0, 0.4]))
def test_slopes_agree_with_finite_differences(seed, uneven):
    # Oracle: central differences of the colours, by every number of every paint and by every amount.
    prior, paints, step = replace(PRIOR, uneven=uneven), some_paints(seed), 1e-5
    recipes = [
        Recipe(((("blue", 2.0), ("rose", 5.0)),)),
        Recipe(((("yellow", 0.3),), (("blue", 6.0), ("yellow", 1.0))), (60.0, 5.0, 20.0)),
    ]
    films = arrange(recipes, ROWS, 1.0)
    _, slopes = colours_and_slopes(films, paints, prior)
    for p in range(3):
        for number in range(paints.shape[1]):
            up, down = paints.copy(), paints.copy()
            up[p, number] += step
            down[p, number] -= step
            by = (colours(films, up, prior) - colours(films, down, prior)) / (2 * step)
            place = (films.paints == p) & (films.amounts > 0)
            found = np.where(place[..., None], slopes.by_paint[..., number], 0).sum(axis=(1, 2))
            assert np.allclose(found, by, atol=2e-5)
    for place in np.ndindex(films.amounts.shape[1:]):
        factor = np.ones_like(films.amounts)
        factor[(slice(None), *place)] = np.exp(step)
        up = colours(Films(films.paints, films.amounts * factor, films.grounds), paints, prior)
        down = colours(Films(films.paints, films.amounts / factor, films.grounds), paints, prior)
        assert np.allclose(slopes.by_part[(slice(None), *place)], (up - down) / (2 * step), atol=2e-5)


@pytest.mark.parametrize("ground", [PLAIN_PAPER, BLACK_LINE, (88.0, 1.0, 12.0), (50.0, -3.0, 4.0)])
def test_a_ground_known_by_colour_has_that_colour(ground):
    assert np.allclose(reflectance_to_lab(ground_reflectance(ground)), ground, atol=1e-6)


def test_a_ground_known_by_spectrum_is_kept():
    spectrum = tuple(np.linspace(0.4, 0.9, 31).tolist())
    assert ground_reflectance(spectrum).tolist() == list(spectrum)
