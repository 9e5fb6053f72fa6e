"""The film against Kubelka's equations and their limits.

The worked values are recomputed from the textbook hyperbolic form (Kubelka 1948), which the module does not
use; the twelve watercolours are those of Curtis et al., "Computer-generated watercolor", SIGGRAPH 1997,
Figure 5 (arithmetic only: the authors chose the values by eye).
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.mixing.film import (
    behind_surface,
    film_alone,
    film_at_infinity,
    film_from_two_grounds,
    film_over,
    film_slopes,
    ratio_of_thick_film,
    stack,
    through_surface,
)

PUBLISHED = Path(__file__).parents[2] / "published"
coefficient = st.floats(0, 1e3)
share = st.floats(0, 1)


@pytest.mark.parametrize(
    ("layer", "alone", "passed", "over_light", "over_dark", "thick"),
    [
        ((0.5, 1), 0.346546, 0.283648, 0.435600, 0.350640, 0.381966),
        ((0.1, 2), 0.618607, 0.289137, 0.751013, 0.622920, 0.729844),
        ((1, 0.5), 0.161713, 0.236371, 0.213052, 0.164530, 0.171573),
        ((0.22, 0.05), 0.038659, 0.764184, 0.520750, 0.067914, 0.093400),
    ],
)
def test_worked_films_agree_with_the_hyperbolic_form(*, layer, alone, passed, over_light, over_dark, thick):
    # Source: textbook form R = R0 + T^2 Rg / (1 - R0 Rg) (Kubelka 1948), six printed digits.
    assert film_alone(*layer) == pytest.approx((alone, passed), abs=5e-7)
    assert film_over(*layer, [0.8, 0.05]) == pytest.approx([over_light, over_dark], abs=5e-7)
    assert film_at_infinity(*layer) == pytest.approx(thick, abs=5e-7)


@pytest.mark.parametrize(
    ("ratio", "reflectance"),
    [(0.01, 0.868226), (0.1, 0.641742), (0.125, 0.609612), (0.5, 0.381966), (1, 0.267949), (2, 0.171573)],
)
def test_a_thick_film_depends_on_the_ratio_alone(ratio, reflectance):
    # Source: Kubelka and Munk 1931, K/S = (1 - R)^2 / 2R.
    assert film_at_infinity(ratio * 3, 3) == pytest.approx(reflectance, abs=5e-7)
    assert ratio_of_thick_film(reflectance) == pytest.approx(ratio, rel=2e-5)


def test_two_grounds_give_the_layer_back():
    # Source: Kubelka 1948, two-ground form, worked values K=.5 S=1 over .8/.05 and K=.07 S=1.4 over .9/.04.
    for K, S, light, dark in [(0.5, 1.0, 0.8, 0.05), (0.07, 1.4, 0.9, 0.04)]:
        found = film_from_two_grounds(film_over(K, S, light), film_over(K, S, dark), light, dark)
        assert np.allclose(found, (K, S), atol=1e-9)


@pytest.mark.parametrize(
    ("white", "black", "scattering", "absorption"),
    [(0.8, 0.1, 0.125134, 0.112621), (0.5, 0.2, 0.380173, 0.380173), (0.3, 0.05, 0.094340, 0.627359)],
)
def test_two_grounds_agree_with_the_inversion_of_curtis(white, black, scattering, absorption):
    # Source: Curtis et al. 1997, section 5.1, grounds 1 and 0.
    assert film_from_two_grounds(white, black, 1.0, 0.0) == pytest.approx((absorption, scattering), abs=5e-7)


def test_the_table_of_curtis_is_reproduced():
    # Source: Curtis et al. 1997, Figure 5; over black and over perfect white at unit thickness.
    with (PUBLISHED / "curtis1997_km.csv").open() as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    assert len(rows) == 12
    for row in rows:
        K, S, black, white = (
            np.array([float(row[f"{column}_{band}"]) for band in "RGB"])
            for column in ("K", "S", "calc_Rblack", "calc_Rwhite")
        )
        assert np.allclose(film_over(K, S, 0.0), black, atol=6e-7)
        assert np.allclose(film_over(K, S, 1.0), white, atol=6e-7)


def test_without_scattering_light_is_dimmed_twice():
    # Source: Beer-Lambert limit, R = Rg exp(-2K).
    assert film_over(0.5, 0.0, 0.8) == pytest.approx(0.294304, abs=5e-7)
    K = np.logspace(-5, 2, 50)
    assert np.allclose(film_over(K, 0, 0.8), 0.8 * np.exp(-2 * K), atol=1e-14)


def test_without_absorption_half_goes_through_at_unit_scattering():
    # Source: Kubelka 1948, K -> 0: R0 = S/(1+S), T = 1/(1+S).
    assert film_alone(0.0, 1.0) == pytest.approx((0.5, 0.5), abs=1e-12)
    S = np.logspace(-5, 3, 50)
    R0, T = film_alone(0.0, S)
    assert np.allclose(R0 + T, 1.0, atol=1e-12)


@given(share)
def test_no_thickness_gives_the_paper(ground):
    assert film_over(0.0, 0.0, ground) == ground


@given(st.floats(1e-3, 10), st.floats(1e-3, 10), share)
def test_a_thick_wash_hides_the_ground(absorption, scattering, ground):
    thick = film_over(1e6 * absorption, 1e6 * scattering, ground)
    assert thick == pytest.approx(float(film_at_infinity(absorption, scattering)), abs=1e-9)


@given(coefficient, coefficient, share)
def test_a_film_never_makes_light(absorption, scattering, ground):
    assert 0 <= film_over(absorption, scattering, ground) <= 1
    R0, T = film_alone(absorption, scattering)
    assert R0 >= 0
    assert T >= 0
    assert R0 + T <= 1 + 1e-12


@given(coefficient, coefficient, share)
def test_film_on_a_ground_agrees_with_film_alone(absorption, scattering, ground):
    R0, T = film_alone(absorption, scattering)
    assert film_over(absorption, scattering, ground) == pytest.approx(
        float(R0 + T * T * ground / (1 - R0 * ground)) if R0 * ground < 1 else 1.0, abs=1e-9
    )


@given(*[st.floats(0, 20)] * 4)
def test_stacked_layers_agree_with_one_laid_on_the_other(K1, S1, K2, S2):
    # Source: Kubelka 1954, R = R1 + T1^2 R2 / (1 - R1 R2), seen from above over black.
    R0, _ = stack(film_alone(K1, S1), film_alone(K2, S2))
    assert film_over(K1, S1, film_over(K2, S2, 0.0)) == pytest.approx(float(R0), abs=1e-9)


@given(st.floats(0, 20), st.floats(0, 20))
def test_two_like_layers_are_one_of_twice_the_thickness(absorption, scattering):
    # Source: Kubelka 1954, T = T1 T2 / (1 - R1 R2).
    one = film_alone(absorption, scattering)
    assert np.allclose(stack(one, one), film_alone(2 * absorption, 2 * scattering), atol=1e-9)


def test_slopes_agree_with_finite_differences_from_thin_to_opaque():
    # Oracle: central differences over eight decades, no scattering included.
    values = np.concatenate([[0.0], np.logspace(-5, 3, 33)])
    K, S = np.meshgrid(np.logspace(-5, 3, 33), values, indexing="ij")
    for ground in (0.0, 0.04, 0.5, 0.9):
        Rg = np.full_like(K, ground)
        R, by_K, by_S, by_ground = film_slopes(K, S, Rg)
        assert np.allclose(R, film_over(K, S, Rg), atol=1e-13)
        step = 1e-5
        slope = (film_slopes(K, S, Rg + step)[0] - film_slopes(K, S, Rg - step)[0]) / (2 * step)
        assert np.allclose(by_ground, slope, atol=1e-8)
        step_K = 1e-4 * K
        slope = (film_slopes(K + step_K, S, Rg)[0] - film_slopes(K - step_K, S, Rg)[0]) / (2 * step_K)
        assert np.allclose(by_K * K, slope * K, atol=2e-9)
        step_S = np.maximum(1e-4 * S, 1e-12)
        up, down = film_slopes(K, S + step_S, Rg)[0], film_slopes(K, np.abs(S - step_S), Rg)[0]
        some = S > 0
        assert np.allclose((by_S * S)[some], (S * (up - down) / (2 * step_S))[some], atol=2e-9)


def test_the_slope_by_scattering_holds_where_nothing_scatters():
    # Oracle: one-sided difference with a second-order step at S = 0.
    K = np.logspace(-5, 2, 40)
    S, ground, step = np.zeros_like(K), np.full_like(K, 0.8), 1e-5
    forward = (
        -3 * film_over(K, S, ground) + 4 * film_over(K, S + step, ground) - film_over(K, S + 2 * step, ground)
    ) / (2 * step)
    assert np.allclose(film_slopes(K, S, ground)[2], forward, atol=1e-6)


def test_the_surface_correction_gives_the_worked_values():
    # Source: Saunderson 1942 with k1 = .04, k2 = .6.
    inside = [0, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.9, 1]
    outside = [0.04, 0.059794, 0.080851, 0.127273, 0.180488, 0.314286, 0.503448, 0.791304, 1.0]
    assert np.allclose(through_surface(inside, 0.04, 0.6), outside, atol=5e-7)
    assert np.allclose(
        behind_surface([0.05, 0.1, 0.2, 0.5, 0.8], 0.04, 0.6),
        [0.025641, 0.142857, 0.333333, 0.696970, 0.904762],
        atol=5e-7,
    )


@given(share, st.floats(0, 0.1), st.floats(0, 0.7))
def test_the_surface_goes_there_and_back(internal, surface, inside):
    assert behind_surface(through_surface(internal, surface, inside), surface, inside) == pytest.approx(
        internal, abs=1e-9
    )


def test_below_the_surface_reflection_nothing_is_known():
    assert behind_surface(0.01, 0.04, 0.6) == 0.0
