"""Gauss-Newton with a prior: held against the closed forms of a model that is linear."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.colour.difference import metric_2000
from halfpan.core.measuring.fit import fit, slope_of

GREY = np.array([[L, 0.0, 0.0] for L in np.linspace(30, 80, 9)])
TERMS = np.random.default_rng(1).normal(0, 1, (9, 3, 4))
TRUE = np.array([0.6, -0.3, 0.2, 0.4])
ALL = np.ones(4, dtype=bool)


def foretell(theta):
    return GREY + TERMS @ theta


def fitted(noise=0.0, prior=1.0, active=ALL, seed=2):
    lab = foretell(TRUE) + noise * np.random.default_rng(seed).normal(0, 1, GREY.shape)
    return lab, fit(foretell, lab, np.zeros(4), prior**2 * np.eye(4), active=active, doubt=0.5)


def test_a_wide_prior_gives_the_truth_back():
    _, (mean, _, missed) = fitted(prior=100.0)
    assert mean == pytest.approx(TRUE, abs=1e-4)
    assert np.abs(missed.left_out).max() < 1e-3


def test_the_covariance_is_that_of_a_linear_model():
    lab, (_, covariance, _) = fitted()
    slope = metric_2000(lab) @ TERMS
    normal = np.einsum("nij,nik->jk", slope, slope) / 0.5**2 + np.eye(4)
    assert covariance == pytest.approx(np.linalg.inv(normal), rel=1e-5)


def test_a_number_that_may_not_move_stays_without_doubt():
    active = np.array([True, True, False, True])
    _, (mean, covariance, _) = fitted(active=active)
    assert mean[2] == 0
    assert not covariance[2].any()


def test_a_tight_prior_holds_everything_where_it_was():
    _, (mean, _, _) = fitted(prior=1e-4)
    assert np.abs(mean).max() < 1e-4


def test_left_out_is_what_leaving_a_patch_out_gives():
    lab, (_, _, missed) = fitted(noise=0.3)
    rest = np.arange(1, 9)
    mean, _, _ = fit(lambda t: foretell(t)[rest], lab[rest], np.zeros(4), np.eye(4), active=ALL, doubt=0.5)
    truly = metric_2000(lab[:1])[0] @ (lab[0] - foretell(mean)[0])
    assert missed.left_out[0] == pytest.approx(truly, abs=0.02)


def test_the_own_miss_is_free_of_the_fits_doubt():
    """For a linear model of k numbers the mean of the squares is the noise's own variance (3 axes)."""
    means = [
        np.mean(fitted(noise=0.3, prior=50.0, seed=seed)[1][2].own)
        / (0.3**2 * np.mean(np.trace(metric_2000(GREY) @ metric_2000(GREY), axis1=1, axis2=2)))
        for seed in range(40)
    ]
    assert np.mean(means) == pytest.approx(1.0, abs=0.1)


def test_a_wild_patch_pulls_less_than_a_plain_mean_would():
    lab = foretell(TRUE)
    lab[4, 0] += 30.0
    mean, _, _ = fit(foretell, lab, np.zeros(4), 1e4 * np.eye(4), active=ALL, doubt=0.5)
    slope = metric_2000(lab) @ TERMS
    plain = np.linalg.lstsq(
        slope.reshape(-1, 4), (metric_2000(lab) @ (lab - GREY)[..., None]).ravel(), rcond=None
    )[0]
    assert np.abs(mean - TRUE).max() < 0.5 * np.abs(plain - TRUE).max()


def test_slopes_of_a_linear_function_are_its_terms():
    assert slope_of(foretell, TRUE) == pytest.approx(TERMS, abs=1e-6)
