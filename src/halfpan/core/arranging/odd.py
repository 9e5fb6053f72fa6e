"""These neighbours look odd: steps in an order that are far above those around them, with a move proposed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.order import Family, OrderRule, places
from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.colour.difference import delta_e_2000

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class OddRule:
    """When a step is odd: ``times`` the median of up to ``around`` steps on either side, and ``least``.

    Differences are CIEDE2000 at mid strength. A step from one family to the next is never odd. At most the
    ``most`` widest steps are returned.
    """

    times: float = 3.0
    least: float = 8.0
    around: int = 4
    most: int = 40


@dataclass(frozen=True, slots=True)
class Move:
    """One paint to another gap; ``shorter`` is by how much the walk through the order shortens."""

    paint: str
    before: str | None
    after: str | None
    shorter: float


@dataclass(frozen=True, slots=True)
class Odd:
    """Two neighbours whose step is far above its surroundings."""

    left: str
    right: str
    step: float
    usual: float
    move: Move | None


def odd_neighbours(
    order: Sequence[str],
    painted: Mapping[str, Painted],
    rule: OddRule | None = None,
    families: OrderRule | None = None,
    *,
    placed: Mapping[str, Family] | None = None,
) -> tuple[Odd, ...]:
    """Return the odd pairs of an order, the worst first.

    Parameters
    ----------
    order : sequence of str
        Paints in the order to be looked at; those without a reading at mid strength are passed over.
    painted : mapping
        What is known of each paint.
    placed : mapping, optional
        Families worked out before, by paint.
    """
    used = rule or OddRule()
    names = [paint for paint in order if paint in painted]
    mids = colours([painted[paint] for paint in names])[:, 1]
    read = np.flatnonzero(np.isfinite(mids).all(axis=1))
    names, mids = [names[i] for i in read], mids[read]
    if len(names) < 3:
        return ()
    kinds = np.array(_kinds([painted[paint] for paint in names], families or OrderRule(), placed or {}))
    steps = delta_e_2000(mids[:-1], mids[1:])
    inside = kinds[:-1] == kinds[1:]
    far = np.flatnonzero(inside & (steps > used.least))
    usual = _usual(steps, inside, far, used.around)
    wide = np.flatnonzero(steps[far] > used.times * usual)
    worst = wide[np.argsort(-steps[far[wide]], kind="stable")][: used.most]
    walk = _Walk(names, mids, kinds, steps)
    return tuple(
        Odd(names[i], names[i + 1], float(steps[i]), float(usual[at]), _move(walk, i))
        for at, i in zip(worst, far[worst].tolist(), strict=True)
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Walk:
    """The paints that were read, in order: colours at mid strength, families, and the steps between them."""

    names: Sequence[str]
    mids: Array
    kinds: NDArray[np.str_]
    steps: Array


def _kinds(read: Sequence[Painted], rule: OrderRule, placed: Mapping[str, Family]) -> list[Family]:
    """Return the families of some paints, worked out here for those that are not known."""
    unknown = [one for one in read if one.paint.id not in placed]
    found = {**placed, **{one.paint: one.family for one in places(unknown, rule)}}
    return [found[one.paint.id] for one in read]


def _usual(steps: Array, inside: NDArray[np.bool_], which: NDArray[np.intp], around: int) -> Array:
    """Return the median of the steps around each of some, infinite where there are too few to say."""
    near = which[:, None] + np.array([*range(-around, 0), *range(1, around + 1)], dtype=int)
    held = (near >= 0) & (near < len(steps))
    near = np.clip(near, 0, len(steps) - 1)
    held &= inside[near]
    rising = np.sort(np.where(held, steps[near], np.nan), axis=1)  # what is not there comes last
    count = held.sum(axis=1)
    middle = np.stack([np.maximum(count - 1, 0) // 2, np.minimum(count // 2, 2 * around - 1)], axis=1)
    medians = np.take_along_axis(rising, middle, axis=1).mean(axis=1)
    return np.where(count >= 2, medians, np.inf)


def _move(walk: _Walk, i: int) -> Move | None:
    """Try both paints of an odd pair in every gap of their own family; the best must halve the step."""
    best = max((_best_gap(walk, one) for one in (i, i + 1)), key=lambda move: move.shorter)
    return best if best.shorter > walk.steps[i] / 2 else None


def _best_gap(walk: _Walk, i: int) -> Move:
    """Return the gap beside a paint of its family that a paint, taken out of the order, lengthens least."""
    own = np.flatnonzero(walk.kinds == walk.kinds[i])
    own = own[own != i]
    gaps = np.unique(np.concatenate([own, own + 1, [i]]))  # gap g lies before the paint at g
    gaps = gaps[gaps != i + 1]  # without the paint, the gaps on its two sides are one
    lengthens = _lengthened(walk, i, gaps)
    home = int(np.searchsorted(gaps, i))
    cost = lengthens.copy()
    if not ((own == i - 1) | (own == i + 1)).any():
        cost[home] = np.inf
    best = int(np.argmin(cost))
    before, after = int(gaps[best]) - 1, int(gaps[best]) + (best == home)
    return Move(
        walk.names[i],
        walk.names[before] if before >= 0 else None,
        walk.names[after] if after < len(walk.names) else None,
        float(lengthens[home] - cost[best]),
    )


def _lengthened(walk: _Walk, i: int, gaps: NDArray[np.intp]) -> Array:
    """Return by how much one paint lengthens the walk of the others in each of some gaps, its own too."""
    last = len(walk.names) - 1
    before, after = gaps - 1, np.where(gaps == i, i + 1, gaps)
    left, right = before >= 0, after <= last
    saved = np.where(left & right, walk.steps[np.clip(before, 0, last - 1)], 0.0)
    if 0 < i < last:
        saved[gaps == i] = delta_e_2000(walk.mids[i - 1], walk.mids[i + 1])
    beside, at = np.unique(np.concatenate([before[left], after[right]]), return_inverse=True)
    far = delta_e_2000(walk.mids[beside], walk.mids[i])[at]
    lengthens = -saved
    lengthens[left] += far[: left.sum()]
    lengthens[right] += far[left.sum() :]
    return lengthens
