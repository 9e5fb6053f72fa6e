"""A good seating of a large tin, quickly.

First a rough map: paints are laid out by their likeness, then assigned to seats again and again by how near
they come to the smoothed map around each seat, with less and less smoothing. Then checkerboards: seats of
which no two are neighbours are re-seated together, exactly, while the rest hold still, as noise cools.
Both steps are linear assignments.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

Array = NDArray[np.float64]
Places = NDArray[np.intp]

_MAPS = 8
_SMOOTHINGS = np.geomspace(30.0, 0.25, 20)
_CHECKERBOARDS = 48
_NOISE = 0.07  # of the mean cost of a seat, at the start
_AXES = 5


def search(
    difference: Array,
    nearness: Array,
    seat_cost: Array,
    *,
    paints: int,
    rng: np.random.Generator,
    rounds: int,
) -> Places:
    """Return a permutation of the paints over the seats that no swap of two pans betters.

    Parameters
    ----------
    difference, nearness, seat_cost : array, shape (n, n), finite; rows of seat_cost are paints
    paints
        How many of the n are paints; the last ones stand for spare seats.
    rng
        Chance, given from outside.
    rounds
        Passes at 100 seats; fewer above, for the time goes with the square of the seats.
    """
    seats = len(nearness)
    boards = _boards(nearness, rng)
    maps = [_rough_map(difference, nearness, seat_cost, paints, rng) for _ in range(_MAPS)]
    pans = min(maps, key=lambda pans: _cost(difference, nearness, seat_cost, pans))
    scale = nearness.sum(axis=1).mean() * difference[:paints, :paints].mean()
    count = max(200, round(rounds * min(1.0, (100 / seats) ** 2)))
    pans = _cool(difference, nearness, seat_cost, pans, boards, rng=rng, rounds=count, noise=_NOISE * scale)
    return _settle(difference, nearness, seat_cost, pans, boards)


def _cost(difference: Array, nearness: Array, seat_cost: Array, pans: Places) -> float:
    steps = difference[np.ix_(pans, pans)]
    return float((nearness * steps).sum() / 2 + seat_cost[pans, np.arange(len(pans))].sum())


def _laid_out(difference: Array) -> Array:
    """Return the paints as points whose distances resemble their differences (classical scaling)."""
    n = len(difference)
    centre = np.eye(n) - 1 / n
    values, vectors = np.linalg.eigh(-0.5 * centre @ difference**2 @ centre)
    return vectors[:, -_AXES:] * np.sqrt(np.maximum(values[-_AXES:], 0))


def _rough_map(
    difference: Array, nearness: Array, seat_cost: Array, paints: int, rng: np.random.Generator
) -> Places:
    points = np.zeros((len(difference), _AXES))
    layout = _laid_out(difference[:paints, :paints])
    points[:paints, -layout.shape[1] :] = layout
    values, vectors = np.linalg.eigh(np.diag(nearness.sum(axis=1)) - nearness)
    pans = rng.permutation(len(difference))
    for smoothing in _SMOOTHINGS:
        smooth = vectors * np.exp(-smoothing * values) @ vectors.T
        target = smooth @ points[pans]
        far = ((points[:, None] - target[None]) ** 2).sum(axis=-1)
        far[paints:] = 0.0
        rows, columns = linear_sum_assignment(far + seat_cost)
        pans = np.empty(len(rows), dtype=np.intp)
        pans[columns] = rows
    return pans


@dataclass(frozen=True, slots=True, eq=False)
class _Board:
    """Seats of which no two are neighbours, with the neighbours of each and how much they count."""

    seats: Places
    beside: Places
    weight: Array


def _boards(nearness: Array, rng: np.random.Generator) -> list[_Board]:
    linked = nearness > 0
    most = max(1, int(linked.sum(axis=1).max()))
    beside = np.argsort(-nearness, axis=1, kind="stable")[:, :most]
    weight = np.take_along_axis(nearness, beside, axis=1)
    boards = []
    for _ in range(_CHECKERBOARDS):
        seats = _independent(linked, rng)
        boards.append(_Board(seats, beside[seats], weight[seats]))
    return boards


def _independent(linked: NDArray[np.bool_], rng: np.random.Generator) -> Places:
    """Return a random set of seats of which no two are neighbours, as large as one greedy pass makes it."""
    taken: list[int] = []
    free = np.ones(len(linked), dtype=bool)
    for seat in rng.permutation(len(linked)):
        if free[seat]:
            taken.append(int(seat))
            free &= ~linked[seat]
    return np.array(taken, dtype=np.intp)


def _reseat(difference: Array, seat_cost: Array, pans: Places, board: _Board, noise: Array | None) -> None:
    """Re-seat one checkerboard in place, the rest holding still."""
    movers = pans[board.seats]
    steps = difference[movers]
    neighbours = pans[board.beside]
    cost = seat_cost[np.ix_(movers, board.seats)]
    for k in range(neighbours.shape[1]):
        cost += steps[:, neighbours[:, k]] * board.weight[:, k]
    if noise is not None:
        cost += noise
    rows, columns = linear_sum_assignment(cost)
    pans[board.seats[columns]] = movers[rows]


def _cool(
    difference: Array,
    nearness: Array,
    seat_cost: Array,
    pans: Places,
    boards: list[_Board],
    *,
    rng: np.random.Generator,
    rounds: int,
    noise: float,
) -> Places:
    largest = max(len(board.seats) for board in boards) ** 2
    pool = rng.normal(0.0, noise, 8 * largest)
    starts = rng.integers(0, 7 * largest, rounds)
    turns = rng.integers(0, len(boards), rounds)
    pans = pans.copy()
    best, best_cost = pans.copy(), _cost(difference, nearness, seat_cost, pans)
    for step in range(rounds):
        board = boards[turns[step]]
        side = len(board.seats)
        jitter = pool[starts[step] : starts[step] + side * side].reshape(side, side)
        _reseat(difference, seat_cost, pans, board, jitter * (1 - step / rounds))
        if step % 4 == 3 and 2 * step > rounds:
            cost = _cost(difference, nearness, seat_cost, pans)
            if cost < best_cost - 1e-12:
                best, best_cost = pans.copy(), cost
    return best


def _settle(
    difference: Array, nearness: Array, seat_cost: Array, pans: Places, boards: list[_Board]
) -> Places:
    """Return the seating when neither a checkerboard nor a swap of two pans betters it any more."""
    pans = pans.copy()
    for board in boards:
        _reseat(difference, seat_cost, pans, board, None)
    for _ in range(4 * len(pans)):
        gains = swap_gains(difference, nearness, pans, seat_cost)
        i, j = np.unravel_index(np.argmin(gains), gains.shape)
        if gains[i, j] > -1e-9:
            break
        pans[[i, j]] = pans[[j, i]]
    return pans


def swap_gains(difference: Array, nearness: Array, pans: Places, seat_cost: Array) -> Array:
    """Return what the cost changes by, shape (seats, seats), when two pans swap seats; below 0 is better.

    ``pans`` must be a permutation of the paints; rows of ``seat_cost`` are paints.
    """
    seated = difference[np.ix_(pans, pans)]
    felt = seated @ nearness
    own = felt.diagonal()
    change = felt + felt.T - own[:, None] - own[None, :] + 2 * nearness * seated
    placed = seat_cost[pans]
    stay = placed.diagonal()
    return change + placed + placed.T - stay[:, None] - stay[None, :]
