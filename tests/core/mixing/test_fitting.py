"""The search: its slopes are those of its loss, and it ends where the loss is flat."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_paints import PAINTS, PRIOR, ladders, over_black, pairs, read

from halfpan.core.mixing.fitting import _loss, _misfit, _normal, set_task, solve, weights_of, white_on_white
from halfpan.core.mixing.observation import BLACK_LINE, PLAIN_PAPER, Observation, Recipe


def every_kind():
    """Return films of known, rough, unknown, full and graded amounts, over paper and black."""
    films = read(ladders(), occasion="swatches", noise=1.0) + read(pairs(), noise=1.0)
    return [
        *films,
        *read(pairs(((2, 2),)), amounts="rough"),
        *read(ladders((5.0,)), amounts="unknown", occasion="guess"),
        *read(ladders((8.0,)), amounts="full", occasion="chart", wash="full"),
        *read(over_black(ladders((8.0,))), amounts="full", occasion="chart", wash="full"),
        *read(ladders((2.0,)), amounts="graded", occasion="chart"),
    ]


def test_slopes_of_the_misfit_agree_with_finite_differences():
    # Oracle: central differences by every unknown: paints, offsets, strengths.
    task = set_task(every_kind(), PAINTS, unit=1.0, prior=PRIOR)
    at, step = np.random.default_rng(4).normal(scale=0.5, size=sum(task.sizes)), 1e-5
    found = _misfit(task, at)[1].toarray()
    for i in range(len(at)):
        move = np.zeros_like(at)
        move[i] = step
        by = (_misfit(task, at + move)[0] - _misfit(task, at - move)[0]) / (2 * step)
        assert np.allclose(found[:, i], by.ravel(), atol=1e-5)


def test_the_gradient_is_that_of_the_loss():
    # Oracle: central differences of the loss; the search works with half of it.
    task = set_task(every_kind(), PAINTS, unit=1.0, prior=PRIOR)
    at, step = np.random.default_rng(5).normal(scale=0.3, size=sum(task.sizes)), 1e-5
    misfit, slopes = _misfit(task, at)
    gradient = _normal(task, misfit, slopes, at)[1]
    for i in range(0, len(at), 7):
        move = np.zeros_like(at)
        move[i] = step
        up, down = (_loss(task, _misfit(task, x)[0], x) for x in (at + move, at - move))
        assert gradient[i] == pytest.approx((up - down) / (4 * step), abs=1e-4, rel=1e-4)


def test_no_random_step_from_the_end_of_the_search_gains_much():
    task = set_task(every_kind(), PAINTS, unit=1.0, prior=PRIOR)
    fit = solve(task)
    again = solve(task, fit.coefficients)
    rng = np.random.default_rng(6)
    spread = np.linalg.cholesky(fit.covariance + 1e-9 * np.eye(len(fit.covariance)))
    moved = solve(
        task, fit.coefficients + (spread @ rng.normal(size=len(spread))).reshape(fit.coefficients.shape)
    )
    for other in (again, moved):
        apart = (other.coefficients - fit.coefficients).ravel() / np.sqrt(np.diag(fit.covariance))
        assert np.abs(apart).max() < 0.5


def test_a_film_that_does_not_fit_counts_less():
    weights = weights_of(np.array([[0.0, 0, 0], [1.0, 1, 1], [10.0, 0, 0]]), PRIOR)
    assert weights[0] > weights[1] > weights[2]
    assert weights[1] == pytest.approx(1.0)  # (4 + 3) / (4 + 3)


def test_only_a_paint_that_never_shows_is_white_on_white():
    def swatch(paint, lab, ground=PLAIN_PAPER):
        return Observation(Recipe((((paint, 1.0),),), ground), lab)

    pale = [swatch("white", (94.0, 0.0, 1.0)), swatch("white", (93.0, 0.0, 2.0))]
    assert white_on_white(pale) == {"white"}
    assert white_on_white([*pale, swatch("white", (70.0, 0.0, 0.0))]) == frozenset()
    assert white_on_white([swatch("white", (60.0, 0.0, 0.0), BLACK_LINE)]) == frozenset()


def test_a_doubtful_reading_counts_less():
    sure = read(ladders((2.0,)))
    doubtful = [replace(o, within_delta_e00=10.0) for o in sure]
    of = [set_task(films, PAINTS, unit=1.0, prior=PRIOR).whiten for films in (sure, doubtful)]
    assert np.all(np.abs(of[1]) <= np.abs(of[0]))
