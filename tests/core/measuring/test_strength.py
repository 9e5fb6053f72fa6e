"""States on the way from masstone to bare paper."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.measuring.strength import MID, TINT, state_on_path, value_range
from halfpan.core.mixing.film import film_over

PAPER = np.full(31, 0.88)


def film(loads):
    bands = np.linspace(0, 1, 31)
    absorption = 2.5 / (1 + np.exp((bands - 0.55) / 0.06))
    scattering = np.full(31, 0.2)
    return reflectance_to_lab(
        film_over(
            loads[:, None] * absorption, loads[:, None] * scattering, np.broadcast_to(PAPER, (len(loads), 31))
        )
    )


@pytest.mark.parametrize("left", [MID, TINT])
def test_a_state_is_the_same_however_the_stroke_thins(left):
    paper, masstone = reflectance_to_lab(PAPER), film(np.ones(1))[0]
    even = state_on_path(film(np.linspace(1, 0, 40)), masstone, paper, left)
    hasty = state_on_path(film(np.linspace(1, 0, 40) ** 2.5), masstone, paper, left)
    assert delta_e_2000(even, hasty) < 0.3


def test_mid_keeps_half_of_the_difference_from_paper():
    paper, masstone = reflectance_to_lab(PAPER), film(np.ones(1))[0]
    mid = state_on_path(film(np.linspace(1, 0, 60)), masstone, paper, MID)
    assert delta_e_2000(mid, paper) == pytest.approx(0.5 * delta_e_2000(masstone, paper), rel=0.01)


def test_a_stroke_that_never_thins_has_no_tint():
    paper, masstone = reflectance_to_lab(PAPER), film(np.ones(1))[0]
    assert state_on_path(film(np.linspace(1, 0.8, 12)), masstone, paper, TINT) is None


def test_value_range_counts_down_from_the_paper():
    assert value_range((30.0, 5, 5), (95.5, 0, 1)) == pytest.approx(65.5)
