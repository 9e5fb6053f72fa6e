"""Patches of seats that change places together: one seat, two neighbours, or a square of four.

Where no two patches of a set are neighbours, what a patch costs in a place does not hang on where the others
go, so that the best way to deal them out is a linear assignment. A patch may be turned as it moves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

Array = NDArray[np.float64]
Places = NDArray[np.intp]

_SETS = 48
_TURNS = {
    1: ((0,),),
    2: ((0, 1), (1, 0)),
    4: (
        (0, 1, 2, 3), (1, 2, 3, 0), (2, 3, 0, 1), (3, 0, 1, 2),
        (3, 2, 1, 0), (2, 1, 0, 3), (1, 0, 3, 2), (0, 3, 2, 1),
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Patches:
    """Patches of one shape, no two of them neighbours.

    ``places``, shape (u, k), are the u seats of each of k patches, in order round it; ``seats`` the same as
    one list; ``around`` their neighbours outside, and ``near``, shape (around, u * k), how much those count.
    ``turns``, shape (t, u), says which member sits in each seat of a place, for each way to turn a patch.
    """

    places: Places
    seats: Places
    around: Places
    near: Array
    turns: Places


def patch_sets(nearness: Array, rng: np.random.Generator) -> list[list[Patches]]:
    """Return random sets of patches: a list each for single seats, pairs and squares, where there are any."""
    whole = nearness == nearness.max(initial=0.0) if nearness.any() else np.zeros(nearness.shape, dtype=bool)
    shapes = [np.arange(len(nearness))[:, None], np.argwhere(np.triu(whole)), _squares(nearness, whole)]
    return [[_some(shape, nearness, rng) for _ in range(_SETS)] for shape in shapes if len(shape)]


def _squares(nearness: Array, whole: NDArray[np.bool_]) -> Places:
    """Return four seats each, in order round, that are whole neighbours along the sides and none across."""
    found = []
    for first in range(len(nearness)):
        beside = np.flatnonzero(whole[first])
        for second, fourth in ((s, f) for s in beside for f in beside if s < f and nearness[s, f] == 0):
            third = whole[second] & whole[fourth] & (nearness[first] == 0)
            found += [(first, second, int(t), fourth) for t in np.flatnonzero(third[first + 1 :]) + first + 1]
    one_each = {frozenset(square): square for square in found}
    return np.array(list(one_each.values()), dtype=np.intp).reshape(-1, 4)


def _some(shape: Places, nearness: Array, rng: np.random.Generator) -> Patches:
    """Return a random set of patches, as large as one greedy pass makes it."""
    linked = nearness > 0
    free = np.ones(len(nearness), dtype=bool)
    taken = []
    for seats in shape[rng.permutation(len(shape))]:
        if free[seats].all():
            taken.append(seats)
            free[seats] = False
            free[linked[seats].any(axis=0)] = False
    places = np.array(taken, dtype=np.intp).T.copy()
    seats = places.ravel()
    around = np.setdiff1d(np.flatnonzero(linked[seats].any(axis=0)), seats)
    turns = np.array(_TURNS[len(places)], dtype=np.intp)
    return Patches(places, seats, around, nearness[np.ix_(around, seats)], turns)


def reseat(
    difference: Array, seat_cost: Array | None, pans: Places, patches: Patches, noise: Array | None = None
) -> None:
    """Deal the patches out anew in place, the rest holding still, each to the place and turn that cost least.

    Parameters
    ----------
    difference, seat_cost : array, shape (n, n); no seat_cost when every seat is as good as another
    pans : array, shape (n,), changed in place
    noise : array, shape (t, k, k), added to what each turn of each patch costs in each place
    """
    movers = pans[patches.seats]
    cost = difference.take(movers, 0).take(pans[patches.around], 1) @ patches.near
    if seat_cost is not None:
        cost += seat_cost[np.ix_(movers, patches.seats)]
    u, k = patches.places.shape
    ways = _of_turns(cost.reshape(u, k, u, k), patches.turns)
    if noise is not None:
        ways += noise
    where = linear_sum_assignment(ways[0] if u == 1 else ways.min(axis=0))[1]
    if u == 1:
        pans[patches.seats[where]] = movers
        return
    each = np.arange(k)
    member = patches.turns[ways[:, each, where].argmin(axis=0)]
    pans[patches.places[:, where]] = movers.reshape(u, k)[member.T, each]


def _of_turns(cost: Array, turns: Places) -> Array:
    """Return what each patch costs in each place and turn, shape (t, k, k)."""
    if len(turns) == 1:
        return cost[:, :, 0]
    ways = cost[turns[:, 0], :, 0]
    for seat in range(1, turns.shape[1]):
        ways += cost[turns[:, seat], :, seat]
    return ways
