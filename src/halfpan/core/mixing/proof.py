"""Painted proof beside prediction: a pair that was painted pulls the answers for that pair to itself.

What all paints together cannot explain of a pair's own boxes is carried over to like mixes of the same
paints. Mixes of pairs that were never painted are left as the films say.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import Films, arrange
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import Observation

Floats = NDArray[np.float64]

_KEPT = 1.0  # of the misfit of a pair that its other boxes share, standard deviation in Lab
_CHANCE = 1.5  # of one painted box, likewise


def pull_of_proof(learnt: Learnt, films: Films) -> Floats:
    """Return what is to be added to the colours (CIELAB, (n, 3)) of films of paints painted together before.

    Notes
    -----
    A Gaussian process over the boxes of one set of paints; two boxes are as alike as their shares and the
    strengths of their washes are.
    """
    pull = np.zeros((len(films), 3))
    if films.paints.shape[1] > 1:
        return pull
    painted = _painted_sets(learnt)
    if not painted:
        return pull
    rows: dict[frozenset[int], list[int]] = {}
    for i, (paints, amounts) in enumerate(zip(films.paints[:, 0], films.amounts[:, 0], strict=True)):
        rows.setdefault(frozenset(paints[amounts > 0].tolist()), []).append(i)
    for paints in rows.keys() & painted.keys():
        asked, seen = films[np.array(rows[paints])], painted[paints]
        done = arrange([o.recipe for o in seen], learnt.rows, learnt.unit)
        misfit = np.array([o.lab for o in seen]) - colours(done, learnt.coefficients, learnt.prior)
        order = sorted(paints)
        alike = _KEPT**2 * _likeness(_shares(done, order), _shares(done, order))
        carried = np.linalg.solve(alike + _CHANCE**2 * np.eye(len(seen)), misfit)
        pull[rows[paints]] = _KEPT**2 * _likeness(_shares(asked, order), _shares(done, order)) @ carried
    return pull


def _painted_sets(learnt: Learnt) -> dict[frozenset[int], list[Observation]]:
    """Return the boxes with measured amounts of every set of paints."""
    number = learnt.rows
    sets: dict[frozenset[int], list[Observation]] = {}
    for one in learnt.observations:
        if not one.single and one.amounts == "known" and len(one.recipe.layers) == 1:
            sets.setdefault(frozenset(number[p] for p in one.recipe.paints), []).append(one)
    return sets


def _shares(films: Films, paints: list[int]) -> tuple[Floats, Floats]:
    """Return each paint's share of a film, (n, paints), and the log of its whole amount, (n,)."""
    own = films.paints[:, 0][:, :, None] == np.array(paints)
    amounts = (films.amounts[:, 0][:, :, None] * own).sum(axis=1)
    total = amounts.sum(axis=1)
    return amounts / total[:, None], np.log(total)


def _likeness(some: tuple[Floats, Floats], others: tuple[Floats, Floats]) -> Floats:
    shares = some[0] @ others[0].T + 1
    return np.asarray(shares * np.exp(-((some[1][:, None] - others[1]) ** 2) / 2))
