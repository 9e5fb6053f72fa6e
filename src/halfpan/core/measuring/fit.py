"""Fit a model of colour to patches: Gauss-Newton with a Gaussian prior, and what each patch misses."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import metric_2000
from halfpan.core.measuring.photo import Array

STEPS = 8
HUBER = 2.5
STEP = 1e-5


@dataclass(frozen=True, slots=True, eq=False)
class Missed:
    """Misses of patches in CIEDE2000: ``left_out`` (n, 3), of each left out in turn, and ``own`` (n,).

    The latter are squares of what is left of the miss once the fit's own doubt there is taken off.
    """

    left_out: Array
    own: Array


def fit(
    foretell: Callable[[Array], Array],
    lab: Array,
    prior_mean: Array,
    prior_covariance: Array,
    *,
    active: NDArray[np.bool_],
    doubt: float,
) -> tuple[Array, Array, Missed]:
    """Fit numbers to patches by Gauss-Newton, with a Gaussian prior and Huber weights.

    Parameters
    ----------
    foretell : Lab of the n patches, shape (n, 3), of k numbers
    lab : array, shape (n, 3), what the patches are
    prior_mean, prior_covariance : arrays, shapes (k,), (k, k)
    active : array, shape (k,), which numbers may move; the others stay at their prior mean without doubt
    doubt : standard deviation of a patch along one axis, in CIEDE2000

    Returns
    -------
    mean (k,), covariance (k, k) and the misses
    """
    metric = metric_2000(lab)
    inverse = np.linalg.inv(prior_covariance[np.ix_(active, active)])
    theta = prior_mean.copy()
    for step in range(STEPS + 1):
        slope = np.einsum("nij,njk->nik", metric, slope_of(foretell, theta, active))
        miss = np.einsum("nij,nj->ni", metric, lab - foretell(theta))
        far = np.sqrt((miss**2).sum(1)) / doubt
        weight = np.minimum(1.0, HUBER / np.maximum(far, 1e-9)) / doubt**2
        normal = np.einsum("n,nij,nik->jk", weight, slope, slope) + inverse
        covariance = np.linalg.inv(normal)
        if step == STEPS:
            break
        pull = np.einsum("n,nij,ni->j", weight, slope, miss) - inverse @ (theta - prior_mean)[active]
        theta[active] += covariance @ pull
    hat = np.einsum("n,nij,jk,nlk->nil", weight, slope, covariance, slope)
    left_out = np.linalg.solve(np.eye(3) - hat, miss[..., None])[..., 0]
    full = np.zeros_like(prior_covariance)
    full[np.ix_(active, active)] = covariance
    return theta, full, Missed(left_out, np.einsum("ni,ni->n", left_out, miss))


def slope_of(
    function: Callable[[Array], Array], theta: Array, active: NDArray[np.bool_] | None = None
) -> Array:
    """Return how what a function gives moves with each (active) number, by small steps both ways."""
    moves = np.eye(len(theta)) * STEP
    moves = moves if active is None else moves[active]
    return np.stack([(function(theta + m) - function(theta - m)) / (2 * STEP) for m in moves], axis=-1)
