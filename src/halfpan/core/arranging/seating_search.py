"""A good seating of a large tin, quickly.

First rough maps: paints are laid out by their likeness, then assigned to seats again and again by how near
they come to the smoothed map around each seat, with less and less smoothing. Then patches of one, two and
four seats of which no two are neighbours are dealt out anew together, exactly, while the rest hold still, as
noise cools. All maps cool a little; only the few that promise most cool to the end.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import cycle

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

from halfpan.core.arranging.seating_patches import Patches, patch_sets, reseat

Array = NDArray[np.float64]
Places = NDArray[np.intp]

_MAPS, _KEPT = 10, 3
_SMOOTHINGS = np.geomspace(30.0, 0.25, 20)
_HOT, _WARM, _COLD = 0.05, 0.03, 0.008  # noise, of what a seat costs in a tin filled by chance
_FIRST = 0.03  # of all rounds, with which each map cools to warm
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
    sets = patch_sets(nearness, rng)
    scale = nearness.sum(axis=1).mean() * difference[:paints, :paints].mean()
    task = _Task(difference, nearness, seat_cost if seat_cost.any() else None, sets, scale)
    count = max(200, round(rounds * min(1.0, (100 / seats) ** 2)))
    first = round(_FIRST * count)
    rest = (count - _MAPS * first) // _KEPT
    maps = [_rough_map(difference, nearness, seat_cost, paints, rng) for _ in range(_MAPS)]
    warm = [_cool(task, pans, rng=rng, rounds=first, noise=(_HOT, _WARM)) for pans in maps]
    warm.sort(key=lambda one: one[1])
    cold = [_cool(task, pans, rng=rng, rounds=rest, noise=(_WARM, _COLD))[0] for pans, _ in warm[:_KEPT]]
    return min((_settle(task, pans) for pans in cold), key=task.cost)


@dataclass(frozen=True, slots=True, eq=False)
class _Task:
    """The tin as numbers; ``seat_cost`` none when all seats are alike, ``scale`` a seat's cost by chance."""

    difference: Array
    nearness: Array
    seat_cost: Array | None
    sets: list[list[Patches]]
    scale: float

    def cost(self, pans: Places) -> float:
        steps = self.difference.take(pans, 0).take(pans, 1)
        seated = 0.0 if self.seat_cost is None else self.seat_cost[pans, np.arange(len(pans))].sum()
        return float(np.vdot(self.nearness, steps) / 2 + seated)


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


def _cool(
    task: _Task, pans: Places, *, rng: np.random.Generator, rounds: int, noise: tuple[float, float]
) -> tuple[Places, float]:
    """Return the seating after noise fell from one value to the other, and its mean cost on the way."""
    pans = pans.copy()
    largest = max(len(one.turns) * one.places.shape[1] ** 2 for kind in task.sets for one in kind)
    pool = rng.normal(0.0, task.scale, 2 * largest)
    starts = rng.integers(0, largest, rounds).tolist()
    which = rng.integers(0, len(task.sets[0]), rounds).tolist()
    costs = []
    for step, kind in zip(range(rounds), cycle(_turn_about(task.sets)), strict=False):
        patches = kind[which[step]]
        u, k = patches.places.shape
        ways = len(patches.turns)
        level = noise[0] + (noise[1] - noise[0]) * step / rounds
        jitter = pool[starts[step] : starts[step] + ways * k * k].reshape(ways, k, k)
        reseat(task.difference, task.seat_cost, pans, patches, jitter * (level * u**0.5))
        if 2 * step >= rounds and step % 8 == 0:
            costs.append(task.cost(pans))
    return pans, float(np.mean(costs)) if costs else np.inf


def _turn_about(sets: list[list[Patches]]) -> list[list[Patches]]:
    """Return the order in which shapes take turns: single seats every other time."""
    return [kind for larger in sets[1:] for kind in (sets[0], larger)] or sets


def _settle(task: _Task, pans: Places) -> Places:
    """Return the seating when no swap of two pans betters it any more."""
    pans = pans.copy()
    for patches in (patches for kind in task.sets for patches in kind):
        reseat(task.difference, task.seat_cost, pans, patches)
    placed = np.zeros(task.difference.shape) if task.seat_cost is None else task.seat_cost
    for _ in range(4 * len(pans)):
        gains = swap_gains(task.difference, task.nearness, pans, placed)
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
