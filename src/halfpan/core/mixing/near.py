"""Amounts of given paints that come as near to a colour as these paints can."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import metric_2000
from halfpan.core.mixing.coats import colours_and_slopes
from halfpan.core.mixing.films import Films
from halfpan.core.mixing.learnt import Learnt

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_LONGEST_STEP = 1.2  # natural logarithm of an amount
WEAKEST, STRONGEST = 0.1, 16.0  # units of a whole wash: a breath of tint to twice full strength


@dataclass(frozen=True, slots=True, eq=False)
class Near:
    """Rows of one wash each: ``amounts`` (n, places) in units, the colours reached and how far they miss."""

    paints: Ints
    amounts: Floats
    lab: Floats
    miss: Floats

    def best(self, count: int) -> Near:
        """Return the rows that miss least, nearest first."""
        order = np.argsort(self.apart, kind="stable")[:count]
        return Near(self.paints[order], self.amounts[order], self.lab[order], self.miss[order])

    @property
    def apart(self) -> Floats:
        """Distance to the colour, (n,), in local CIEDE2000."""
        return np.asarray(np.linalg.norm(self.miss, axis=1))


def approach(
    learnt: Learnt,
    target: Floats,
    ground: Floats,
    *,
    paints: Ints,
    amounts: Floats,
    rounds: int = 10,
    only_strength: bool = False,
) -> Near:
    """Move the amounts of many washes at once towards a colour.

    Parameters
    ----------
    learnt : what is known of the paints
    target : array, shape (3,), CIELAB, or (n, 3)
    ground : array, shape (31,), reflectance of the paper
    paints, amounts : arrays, shape (n, places), where to begin; units
    rounds : steps of damped least squares
    only_strength : keep the parts, move only how strong the wash is
    """
    W = metric_2000(target)
    grounds = np.broadcast_to(ground, (len(paints), len(ground)))
    log_amounts = _within_reach(np.log(amounts))
    damping = np.full(len(paints), 0.1)
    lab, miss, J = _look(learnt, paints, log_amounts, grounds, (target, W))
    for _ in range(rounds):
        slope = J.sum(axis=2, keepdims=True) if only_strength else J
        step = _step(slope, miss, damping)
        trial = _within_reach(log_amounts + step)
        trial_lab, trial_miss, trial_J = _look(learnt, paints, trial, grounds, (target, W))
        better = np.sum(trial_miss**2, axis=1) <= np.sum(miss**2, axis=1)
        damping = np.where(better, damping / 4, damping * 6)
        log_amounts = np.where(better[:, None], trial, log_amounts)
        lab, miss = (np.where(better[:, None], a, b) for a, b in ((trial_lab, lab), (trial_miss, miss)))
        J = np.where(better[:, None, None], trial_J, J)
    return Near(paints, np.exp(log_amounts), lab, miss)


def _look(
    learnt: Learnt, paints: Ints, log_amounts: Floats, grounds: Floats, aim: tuple[Floats, Floats]
) -> tuple[Floats, Floats, Floats]:
    """Return colours, whitened misses (n, 3) and their slopes by log amount (n, 3, places)."""
    films = Films(paints[:, None, :], np.exp(log_amounts)[:, None, :], grounds)
    lab, slopes = colours_and_slopes(films, learnt.coefficients, learnt.prior, of_paints=False)
    target, W = aim
    miss = np.einsum("...ij,...j->...i", W, lab - target)
    return lab, miss, W @ np.swapaxes(slopes.by_part[:, 0], 1, 2)


def _step(slope: Floats, miss: Floats, damping: Floats) -> Floats:
    across = np.swapaxes(slope, 1, 2)
    normal = across @ slope + damping[:, None, None] * np.eye(slope.shape[2])
    step = -np.linalg.solve(normal, across @ miss[:, :, None])[:, :, 0]
    return np.asarray(np.clip(step, -_LONGEST_STEP, _LONGEST_STEP))


def _within_reach(log_amounts: Floats) -> Floats:
    """Keep the whole wash between the weakest and the strongest, parts as they are, none below a tenth."""
    log_amounts = np.maximum(log_amounts, log_amounts.max(axis=1, keepdims=True) - np.log(10.0))
    total = np.log(np.exp(log_amounts).sum(axis=1, keepdims=True))
    return np.asarray(log_amounts + np.clip(total, np.log(WEAKEST), np.log(STRONGEST)) - total)
