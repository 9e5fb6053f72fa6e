"""Seat pans so that neighbours differ least.

The objective is a sum over pairs of neighbouring seats, nearness times the difference of the two paints,
plus what it costs to put this paint in that seat (a strong paint in a full pan, say). Small tins are solved
exactly, large ones by the search of `seating_search`.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import linear_sum_assignment

from halfpan.core.arranging.seating_exact import MOST_SEATS_PROVED, seat_exactly
from halfpan.core.arranging.seating_search import search, swap_gains
from halfpan.errors import BadRequest

Array = NDArray[np.float64]
Places = NDArray[np.intp]

SPARE = -1
_SEATS_PROVED_AT_ONCE = 9


@dataclass(frozen=True, slots=True, eq=False)
class Seating:
    """Who sits where. ``pans[seat]`` is the index of the paint, or ``SPARE``.

    ``cost`` is the objective, ``bound`` a value no seating can beat; ``proved`` says the two meet.
    """

    pans: Places
    cost: float
    bound: float
    proved: bool

    @property
    def gap(self) -> float:
        """How far the cost may lie above the best, as a share of the bound."""
        return 0.0 if self.proved else (self.cost - self.bound) / self.bound if self.bound > 0 else np.inf


def seat_pans(
    difference: ArrayLike,
    nearness: ArrayLike,
    *,
    seat_cost: ArrayLike | None = None,
    locked: Mapping[int, int] | None = None,
    seed: int = 0,
    rounds: int = 14000,
    prove: bool = False,
    start: ArrayLike | None = None,
) -> Seating:
    """Seat pans so that neighbours differ least.

    Parameters
    ----------
    difference : array, shape (paints, paints), symmetric, 0 on the diagonal, such as CIEDE2000
    nearness : array, shape (seats, seats), symmetric, 0 where two seats are no neighbours
    seat_cost : array, shape (paints, seats), what it costs to put a paint in a seat; ``inf`` forbids it
    locked
        Seat index to paint index (or ``SPARE`` to keep a seat free): these stay.
    seed
        Same input and same seed give the same seating.
    rounds
        Passes of the search on a tin of 100 seats; larger tins get fewer.
    prove
        Prove the best seating up to 12 seats (seconds); without it up to 9 (a moment).
    start
        A seating there is; the answer is never worse than it, and it stays when nothing better is found.

    Raises
    ------
    BadRequest
        If there are more paints than seats, or the locks cannot hold.
    """
    problem = _problem(difference, nearness, seat_cost, locked or {})
    if len(problem.fixed) <= (MOST_SEATS_PROVED if prove else _SEATS_PROVED_AT_ONCE):
        exact = seat_exactly(problem.difference, problem.nearness, problem.seat_cost)
        if exact is not None:
            cost = _cost(problem, exact)
            return Seating(_with_spares(exact, problem), cost, cost, proved=True)
    best = search(
        problem.difference,
        problem.nearness,
        np.where(np.isfinite(problem.seat_cost), problem.seat_cost, _IMPOSSIBLE),
        paints=problem.paints,
        rng=np.random.default_rng(seed),
        rounds=rounds,
    )
    before = None if start is None else _squared(np.asarray(start), problem)
    if before is not None and _cost(problem, before) <= _cost(problem, best):
        best = before
    cost = _cost(problem, best)
    bound = min(_bound(problem), cost)
    return Seating(_with_spares(best, problem), cost, bound, proved=bool(np.isclose(bound, cost)))


def seating_cost(pans: ArrayLike, difference: ArrayLike, nearness: ArrayLike) -> float:
    """Return the neighbour part of the objective of a given seating; spare seats cost nothing."""
    pans = np.asarray(pans)
    held = np.flatnonzero(pans != SPARE)
    steps = np.asarray(difference, dtype=float)[np.ix_(pans[held], pans[held])]
    return float((np.asarray(nearness, dtype=float)[np.ix_(held, held)] * steps).sum() / 2)


def mean_step(pans: ArrayLike, difference: ArrayLike, nearness: ArrayLike) -> float:
    """Return the mean difference between neighbours, weighted by nearness; 0 when there are none."""
    pans = np.asarray(pans)
    held = np.flatnonzero(pans != SPARE)
    weight = float(np.asarray(nearness, dtype=float)[np.ix_(held, held)].sum() / 2)
    return seating_cost(pans, difference, nearness) / weight if weight else 0.0


_FREE = -2


@dataclass(frozen=True, slots=True, eq=False)
class _Problem:
    """The task squared off: as many paints as seats, the last ones standing for spare seats."""

    difference: Array
    nearness: Array
    seat_cost: Array
    fixed: Places
    paints: int


def _problem(
    difference: ArrayLike,
    nearness: ArrayLike,
    seat_cost: ArrayLike | None,
    locked: Mapping[int, int],
) -> _Problem:
    given, near = np.asarray(difference, dtype=float), np.asarray(nearness, dtype=float)
    paints, seats = len(given), len(near)
    if paints > seats:
        raise BadRequest(
            f"{paints} paints are to sit in {seats} seats: take some out or choose a larger tin."
        )
    squared = np.zeros((seats, seats))
    squared[:paints, :paints] = given
    cost = np.zeros((seats, seats))
    if seat_cost is not None:
        cost[:paints] = seat_cost
    fixed = np.full(seats, _FREE, dtype=np.intp)
    spares = iter(range(paints, seats))
    for seat, paint in locked.items():
        who = next(spares, None) if paint == SPARE else paint
        if who is None or who in fixed:
            raise BadRequest(
                "The locked seats cannot all hold: a paint is locked twice or too many stay free."
            )
        fixed[seat] = who
        cost[:, seat] = np.inf
        cost[who, :] = np.inf
        cost[who, seat] = 0.0 if paint == SPARE or seat_cost is None else np.asarray(seat_cost)[paint, seat]
    if not np.all(np.isfinite(cost).any(axis=0)):
        raise BadRequest("A seat is left that no paint may take: loosen a lock or a pan size.")
    return _Problem(squared, near, cost, fixed, paints)


def _squared(start: Places, problem: _Problem) -> Places | None:
    """Return a seating with a paint in every seat; none when it does not keep to the locks."""
    pans = start.copy()
    kept_free = {int(who) for who in problem.fixed if who >= problem.paints}
    others = iter([who for who in range(problem.paints, len(start)) if who not in kept_free])
    for seat in np.flatnonzero(pans == SPARE):
        fixed = problem.fixed[seat]
        pans[seat] = fixed if fixed != _FREE else next(others, _FREE)
    locked = problem.fixed != _FREE
    whole = len(set(pans.tolist())) == len(pans) and bool((pans >= 0).all())
    return pans if whole and bool((pans[locked] == problem.fixed[locked]).all()) else None


def _with_spares(pans: Places, problem: _Problem) -> Places:
    return np.where(pans < problem.paints, pans, SPARE)


def _cost(problem: _Problem, pans: Places) -> float:
    steps = problem.difference[np.ix_(pans, pans)]
    return float((problem.nearness * steps).sum() / 2 + problem.seat_cost[pans, np.arange(len(pans))].sum())


def _bound(problem: _Problem) -> float:
    """Return the Gilmore-Lawler bound: each seat with its kindest neighbours, assigned exactly.

    What is settled by locks (kept free seats, too) is counted as it is, so that only the rest is guessed.
    """
    held = np.flatnonzero(problem.fixed != _FREE)
    pans = problem.fixed[held]
    free = np.flatnonzero(problem.fixed == _FREE)
    rest = np.setdiff1d(np.arange(len(problem.fixed)), pans)
    settled = (problem.nearness[np.ix_(held, held)] * problem.difference[np.ix_(pans, pans)]).sum() / 2
    settled += problem.seat_cost[pans, held].sum()
    if not len(free):
        return float(settled)
    to_held = problem.difference[np.ix_(rest, pans)] @ problem.nearness[np.ix_(held, free)]
    among = problem.difference[np.ix_(rest, rest)]
    steps = np.sort(among + np.diag(np.full(len(rest), np.inf)), axis=1)[:, :-1]
    weights = -np.sort(-problem.nearness[np.ix_(free, free)], axis=1)[:, : len(free) - 1]
    kindest = steps @ weights.T / 2 + to_held + problem.seat_cost[np.ix_(rest, free)]
    finite = np.where(np.isfinite(kindest), kindest, _IMPOSSIBLE)
    rows, columns = linear_sum_assignment(finite)
    return float(settled + finite[rows, columns].sum())


_IMPOSSIBLE = 1e9


@dataclass(frozen=True, slots=True)
class OddPan:
    """A pan that looks odd where it sits: its step against its neighbours, theirs, and what helps most.

    ``swap_with`` is the seat to swap with, or a free seat to move to, and ``gain`` how much the sum of steps
    falls; none when neither helps.
    """

    seat: int
    step: float
    usual: float
    swap_with: int | None
    gain: float


def odd_pans(
    pans: ArrayLike,
    difference: ArrayLike,
    nearness: ArrayLike,
    *,
    factor: float = 1.5,
    locked: Collection[int] = (),
) -> list[OddPan]:
    """Return the pans whose step to their neighbours is far above that of the tin, most to gain first.

    ``factor`` times the median step of all pans counts as odd: Halfpan's own threshold. Pans in ``locked``
    seats are neither named nor asked to give way.
    """
    pans = np.asarray(pans)
    near = np.asarray(nearness, dtype=float)
    held = np.flatnonzero(pans != SPARE)
    steps = np.asarray(difference, dtype=float)[np.ix_(pans[held], pans[held])]
    weights = near[np.ix_(held, held)]
    counted = weights.sum(axis=1)
    lonely = counted == 0
    step = np.where(lonely, 0.0, (weights * steps).sum(axis=1) / np.where(lonely, 1.0, counted))
    usual = float(np.median(step[~lonely])) if np.any(~lonely) else 0.0
    gains = _gains(pans, held, steps, near)
    gains[:, list(locked)] = 0.0
    odd = (step > 0) & (step >= factor * usual) & ~np.isin(held, list(locked))
    return sorted(
        (_odd(int(held[i]), gains[held[i]], float(step[i]), usual) for i in np.flatnonzero(odd)),
        key=lambda odd: (-odd.gain, -odd.step, odd.seat),
    )


def _gains(pans: Places, held: Places, steps: Array, near: Array) -> Array:
    """Return what each swap changes, shape (seats, seats); the free seats hold pans that differ from none."""
    seats = len(pans)
    everyone = np.zeros((seats, seats))
    everyone[np.ix_(held, held)] = steps
    gains = swap_gains(everyone, near, np.arange(seats, dtype=np.intp), np.zeros((seats, seats)))
    free = pans == SPARE
    gains[np.ix_(free, free)] = 0.0
    return gains


def _odd(seat: int, gains: Array, step: float, usual: float) -> OddPan:
    other = int(np.argmin(gains))
    gain = max(-float(gains[other]), 0.0)
    return OddPan(seat, step, usual, other if gain > 1e-9 else None, gain)
