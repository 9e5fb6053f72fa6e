"""How far an answer can be believed: the radius around a predicted colour, and boxes that do not fit.

The radius comes from the linearised posterior of the paints at the fit plus the doubt of one painted film.
Nothing is tuned to make it cover; how often it does is measured in the bench.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from halfpan.core.colour.difference import delta_e_2000, metric_2000
from halfpan.core.mixing.coats import colours_and_slopes
from halfpan.core.mixing.films import Films, arrange
from halfpan.core.mixing.fitting import doubt_of, weights_of
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.proof import pull_of_proof

Floats = NDArray[np.float64]

_ROWS = 4096  # worked at once, to keep the memory small
_SUSPICIOUS = 1.6  # times the 90 % radius
_MOST = 0.98  # of a box is at most explained by itself; a rough amount could feign more


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """Predicted colours (n, 3) and the covariance (n, 3, 3) of a painted film around them, in CIEDE2000."""

    lab: Floats
    covariance: Floats

    def within(self, share: float = 0.95) -> Floats:
        """Return the radius (n,) that holds this share of what will be painted."""
        return radius(self.covariance, share)


@dataclass(frozen=True, slots=True)
class Suspicious:
    """A painted box far outside its radius: swapped, or misread? ``apart`` is in CIEDE2000."""

    box: str
    number: int
    apart: float
    within_delta_e00: float


def radius(covariance: Floats, share: float) -> Floats:
    """Return the radius of a share of a normal cloud around its centre.

    Notes
    -----
    The squared distance is a weighted sum of squares; it is matched by a scaled chi-squared of the same
    mean and variance (Welch and Satterthwaite).
    """
    trace = np.trace(covariance, axis1=-2, axis2=-1)
    squares = np.sum(covariance * np.swapaxes(covariance, -1, -2), axis=(-2, -1))
    return np.asarray(np.sqrt(squares / trace * chi2.ppf(share, trace * trace / squares)))


def whitened_slopes(learnt: Learnt, films: Films, at: Floats | None = None) -> tuple[Floats, Floats, Floats]:
    """Return colours (n, 3) and slopes in CIEDE2000 units at them, or at other colours ``at`` (n, 3).

    By the paints' numbers (n, 3, places * numbers) and by log amount of each place (n, 3, places); places
    run over layers, then paints of a layer.
    """
    lab, slopes = colours_and_slopes(films, learnt.coefficients, learnt.prior)
    W = metric_2000(lab if at is None else at)
    n, layers, places, _, numbers = slopes.by_paint.shape
    inks = W[:, None] @ slopes.by_paint.reshape(n, layers * places, 3, numbers)
    by_paint = inks.transpose(0, 2, 1, 3).reshape(n, 3, layers * places * numbers)
    return lab, by_paint, W @ np.swapaxes(slopes.by_part.reshape(n, layers * places, 3), 1, 2)


def spread(learnt: Learnt, films: Films, *, amount_spread: float = 0.0) -> Spread:
    """Return colours with the covariance a painted film is expected to have around them.

    ``amount_spread`` is how far off each asked amount may be measured out (natural logarithm).
    """
    labs, covariances = [], []
    for start in range(0, len(films), _ROWS):
        rows = films[slice(start, start + _ROWS)]
        lab, slopes, by_part = whitened_slopes(learnt, rows)
        covariance = _of_paints(learnt, rows, slopes)
        covariance += learnt.prior.mix_doubt**2 * np.eye(3)
        covariance += amount_spread**2 * by_part @ np.swapaxes(by_part, 1, 2)
        labs.append(lab + pull_of_proof(learnt, rows))
        covariances.append(covariance)
    if not labs:
        return Spread(np.zeros((0, 3)), np.zeros((0, 3, 3)))
    return Spread(np.concatenate(labs), np.concatenate(covariances))


def _of_paints(learnt: Learnt, films: Films, slopes: Floats) -> Floats:
    """Return the covariance (n, 3, 3) that comes from not knowing the paints."""
    numbers = learnt.coefficients.shape[1]
    flat = films.paints.reshape(len(films), -1)
    out = np.empty((len(films), 3, 3))
    sets, which = np.unique(flat, axis=0, return_inverse=True)
    order = np.argsort(which.ravel(), kind="stable")
    ends = np.cumsum(np.bincount(which.ravel(), minlength=len(sets)))
    for paints, rows in zip(sets, np.split(order, ends[:-1]), strict=True):
        own, place = np.unique(paints, return_inverse=True)
        own_covariance = learnt.covariance(own.tolist())
        take = (place[:, None] * numbers + np.arange(numbers)).ravel()
        J = slopes[rows]
        out[rows] = J @ own_covariance[np.ix_(take, take)] @ J.transpose(0, 2, 1)
    return out


def suspicious(learnt: Learnt) -> tuple[Suspicious, ...]:
    """Return painted mixes that lie so far from what all the others say that they should be looked at.

    Notes
    -----
    Each box is judged by the fit without it, worked out from the fit with it: with A the spread of its
    prediction over its own doubt and w its weight in the fit, the misfit becomes ``(I - wA)^-1 e`` and the
    spread ``A (I - wA)^-1``.
    """
    mixes = [
        (i, o) for i, o in enumerate(learnt.observations) if not o.single and o.amounts in {"known", "rough"}
    ]
    if not mixes:
        return ()
    films = arrange([o.recipe for _, o in mixes], learnt.rows, learnt.unit)
    read = np.array([o.lab for _, o in mixes])
    lab, slopes, by_part = whitened_slopes(learnt, films, at=read)
    doubt = np.array([doubt_of(o, learnt.prior) for _, o in mixes])[:, None, None]
    rough = np.array([learnt.prior.rough_parts * (o.amounts == "rough") for _, o in mixes])[:, None, None]
    W = metric_2000(read)
    misfit = (W @ (lab - read)[:, :, None]) / doubt
    weight = weights_of(misfit[:, :, 0], learnt.prior)[:, None, None]
    inside = _of_paints(learnt, films, slopes) / doubt**2
    pulled = weight * inside
    pulled *= np.minimum(1, _MOST / np.maximum(np.linalg.eigvalsh(pulled)[:, -1], _MOST))[:, None, None]
    without = np.linalg.inv(np.eye(3) - pulled)
    told = read + np.linalg.solve(W, without @ misfit * doubt)[:, :, 0]
    apart = delta_e_2000(told, read)
    covariance = doubt**2 * (inside @ without + np.eye(3))
    covariance += rough**2 * by_part @ np.swapaxes(by_part, 1, 2)
    limit = _SUSPICIOUS * radius(covariance, 0.9)
    return tuple(
        Suspicious(o.box, i, float(a), float(w))
        for (i, o), a, w, far in zip(mixes, apart, radius(covariance, 0.95), apart > limit, strict=True)
        if far
    )
