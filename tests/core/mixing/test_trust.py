"""The radius holds what it promises, and a swapped box is named."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_paints import PRIOR, ROWS, ladders, pairs, read, truth
from scipy.stats import chi2

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.trust import radius, spread, suspicious


def test_a_round_cloud_has_the_radius_of_the_chi_squared_table():
    # Source: chi-squared table, 3 degrees of freedom, 95 %: 7.815 (NIST/SEMATECH e-Handbook 1.3.6.7.4).
    assert radius(np.eye(3), 0.95) == pytest.approx(np.sqrt(7.815), abs=2e-4)
    assert radius(4 * np.eye(3), 0.5) == pytest.approx(2 * np.sqrt(chi2.ppf(0.5, 3)), abs=1e-12)


@pytest.mark.parametrize("axes", [(1, 1, 1), (9, 1, 1), (25, 4, 0.5), (100, 0.1, 0.1)])
@pytest.mark.parametrize("share", [0.5, 0.8, 0.95])
def test_a_long_cloud_is_held_by_its_radius(axes, share):
    # Oracle: 200,000 draws of the cloud itself.
    draws = np.random.default_rng(7).normal(size=(200_000, 3)) * np.sqrt(axes)
    held = np.mean(np.linalg.norm(draws, axis=1) <= radius(np.diag(np.array(axes, dtype=float)), share))
    assert held == pytest.approx(share, abs=0.03)


def test_the_radius_covers_paints_drawn_from_what_is_believed():
    inside = []
    for seed in range(12):
        learnt = learn(read(ladders(), seed, noise=1.0), unit=1.0)
        expected = spread(learnt, arrange(pairs(), learnt.rows, 1.0))
        true = colours(arrange(pairs(), ROWS, 1.0), truth(seed), PRIOR)
        inside.append(delta_e_2000(expected.lab, true) <= expected.within())
    assert np.mean(inside) > 0.9


def test_rough_parts_widen_the_radius():
    learnt = learn(read(ladders()) + read(pairs()))
    films = arrange(pairs(), learnt.rows, learnt.unit)
    assert np.all(spread(learnt, films, amount_spread=0.22).within() > spread(learnt, films).within())


def test_no_films_have_no_radius():
    learnt = learn(read(ladders()))
    assert spread(learnt, arrange([], learnt.rows, 1.0)).within().shape == (0,)


def test_a_swapped_box_is_named_and_no_other():
    films = read(ladders()) + read(pairs(), occasion="box", noise=0.5)
    off = replace(films[-1], lab=(88.0, 20.0, 50.0))
    found = suspicious(learn([*films[:-1], off]))
    assert [s.box for s in found] == [off.box]
    assert found[0].apart > found[0].within_delta_e00
    assert suspicious(learn(films)) == ()
