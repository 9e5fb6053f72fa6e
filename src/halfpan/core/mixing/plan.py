"""Which boxes to paint next: those that teach most about everything the paints could be mixed to.

No colour of a planned box is needed, only what the model would still not know after it. So a whole sheet
can be planned from swatches alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import PLAIN_PAPER, Recipe
from halfpan.core.mixing.trust import radius, whitened_slopes
from halfpan.core.paint.reading import Lab

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

STEPS = ((1, 1), (1, 2), (2, 1), (2, 2), (2, 4), (4, 2), (4, 4), (4, 8), (8, 4), (8, 8))


@dataclass(frozen=True, slots=True)
class Plan:
    """Boxes to paint, most telling first; mean 95 % radius of all mixes in mind now and after each box."""

    boxes: tuple[Recipe, ...]
    now_delta_e00: float
    after_each: tuple[float, ...]

    @property
    def forecast_delta_e00(self) -> float:
        """Return the mean 95 % radius to expect when all boxes are painted."""
        return self.after_each[-1] if self.after_each else self.now_delta_e00


@dataclass(frozen=True, slots=True, eq=False)
class _Sets:
    """Films gathered by their set of paints.

    ``numbers`` (sets, m) say where the numbers of a set stand in the covariance, ``slopes`` (sets, r, 3, m)
    hold up to r films each, ``which`` (sets, r) is the film, -1 for an empty place.
    """

    numbers: Ints
    slopes: Floats
    which: Ints


def every_pair(
    paints: Sequence[str], learnt: Learnt, ground: Lab | tuple[float, ...] = PLAIN_PAPER
) -> list[Recipe]:
    """Return mixes of every two of these paints, one to two at most, from weak to strong."""
    return [
        Recipe((((a, m * learnt.unit), (b, n * learnt.unit)),), ground)
        for a, b in combinations(paints, 2)
        for m, n in STEPS
    ]


def plan_boxes(
    learnt: Learnt,
    count: int,
    *,
    candidates: Sequence[Recipe],
    targets: Sequence[Recipe] | None = None,
) -> Plan:
    """Choose boxes to paint.

    Parameters
    ----------
    learnt : what is known now
    count : how many boxes, at most as many as there are candidates
    candidates : boxes that could be painted
    targets : what the painter would like to know; the candidates when not given

    Returns
    -------
    Plan

    Notes
    -----
    Greedy: the box that takes most of the summed variance of the targets away, given those already chosen.
    With P the chosen box's slopes through the covariance C (scaled by its own doubt), C becomes C - P P'.
    """
    paints = list(dict.fromkeys(p for r in (*candidates, *(targets or ())) for p in r.paints))
    learnt.require(paints)
    rows = [learnt.rows[p] for p in paints]
    offered = _gather(learnt, candidates, rows)
    wanted = offered if targets is None else _gather(learnt, targets, rows)
    covariance = learnt.covariance(rows)
    aim = _information(wanted, len(covariance))
    through = covariance @ aim
    worth = through @ covariance
    noise = learnt.prior.mix_doubt**2 * np.eye(3)
    now = _mean_radius(wanted, covariance, noise)
    chosen: list[int] = []
    after: list[float] = []
    for _ in range(min(count, len(candidates))):
        at = _best(offered, covariance, worth, noise, chosen)
        J, numbers = offered.slopes[at], offered.numbers[at[0]]
        seen = covariance[:, numbers] @ J.T
        factor = np.linalg.cholesky(np.linalg.inv(J @ seen[numbers] + noise))
        P = seen @ factor
        PA, TP = P @ (P.T @ aim), through @ P
        worth = worth - TP @ P.T - P @ TP.T + P @ (P.T @ aim @ P) @ P.T
        through, covariance = through - PA, covariance - P @ P.T
        chosen.append(int(offered.which[at]))
        after.append(_mean_radius(wanted, covariance, noise))
    return Plan(tuple(candidates[i] for i in chosen), now, tuple(after))


def _gather(learnt: Learnt, recipes: Sequence[Recipe], rows: Sequence[int]) -> _Sets:
    """Gather films by their set of paints, with slopes in CIEDE2000."""
    films = arrange(recipes, learnt.rows, learnt.unit)
    _, slopes, _ = whitened_slopes(learnt, films)
    own = learnt.coefficients.shape[1]
    place = np.zeros(len(learnt.paints), dtype=np.int64)
    place[list(rows)] = np.arange(len(rows))
    sets, of = np.unique(place[films.paints.reshape(len(films), -1)], axis=0, return_inverse=True)
    of = of.ravel()
    size = np.bincount(of, minlength=len(sets))
    order = np.argsort(of, kind="stable")
    within = np.arange(len(order)) - np.repeat(np.cumsum(size) - size, size)
    gathered = np.zeros((len(sets), int(size.max(initial=0)), 3, slopes.shape[2]))
    which = np.full(gathered.shape[:2], -1, dtype=np.int64)
    gathered[of[order], within] = slopes[order]
    which[of[order], within] = order
    numbers = (sets[:, :, None] * own + np.arange(own)).reshape(len(sets), -1)
    return _Sets(numbers, gathered, which)


def _information(films: _Sets, size: int) -> Floats:
    """Return the sum of squares of all slopes, (size, size)."""
    total = np.zeros((size, size))
    for numbers, slopes in zip(films.numbers, films.slopes, strict=True):
        flat = slopes.reshape(-1, slopes.shape[-1])
        np.add.at(total, np.ix_(numbers, numbers), flat.T @ flat)
    return total


def _seen(films: _Sets, matrix: Floats) -> Floats:
    """Return J M J' of every film, (sets, r, 3, 3)."""
    blocks = matrix[films.numbers[:, :, None], films.numbers[:, None, :]]
    return np.asarray((films.slopes @ blocks[:, None]) @ np.swapaxes(films.slopes, 2, 3))


def _best(
    offered: _Sets, covariance: Floats, worth: Floats, noise: Floats, chosen: Sequence[int]
) -> tuple[int, int]:
    unknown, useful = _seen(offered, covariance) + noise, _seen(offered, worth)
    gain = np.trace(np.linalg.solve(unknown, useful), axis1=2, axis2=3)
    gain[np.isin(offered.which, [-1, *chosen])] = -np.inf
    i, j = np.unravel_index(int(np.argmax(gain)), gain.shape)
    return int(i), int(j)


def _mean_radius(wanted: _Sets, covariance: Floats, noise: Floats) -> float:
    within = radius(_seen(wanted, covariance) + noise, 0.95)
    return float(within[wanted.which >= 0].mean())
