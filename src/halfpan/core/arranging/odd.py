"""These neighbours look odd: steps in an order that are far above those around them, with a move proposed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.order import Family, OrderRule, place
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
    known, used_rule = placed or {}, families or OrderRule()
    kinds = [known.get(paint) or place(painted[paint], used_rule).family for paint in names]
    steps = delta_e_2000(mids[:-1], mids[1:])
    inside = np.array([a == b for a, b in pairwise(kinds)], dtype=bool)
    far = [int(i) for i in np.flatnonzero(inside & (steps > used.least))]
    usual = {i: _usual(steps, inside, i, used.around) for i in far}
    odd = sorted((i for i in far if steps[i] > used.times * usual[i]), key=lambda i: -steps[i])[: used.most]
    kinds_array = np.array(kinds)
    return tuple(
        Odd(
            names[i],
            names[i + 1],
            float(steps[i]),
            usual[i],
            _move(names, mids, kinds_array, i, float(steps[i])),
        )
        for i in odd
    )


def _usual(steps: Array, inside: NDArray[np.bool_], i: int, around: int) -> float:
    """Return the median of the steps around one, infinite where there are too few to say."""
    near = [j for j in range(max(0, i - around), min(len(steps), i + around + 1)) if j != i and inside[j]]
    return float(np.median(steps[near])) if len(near) >= 2 else np.inf


def _move(names: list[str], mids: Array, kinds: NDArray[np.str_], i: int, step: float) -> Move | None:
    """Try both paints of an odd pair in every gap of their own family; the best must halve the step."""
    best = max((_best_gap(names, mids, kinds, one) for one in (i, i + 1)), key=lambda move: move.shorter)
    return best if best.shorter > step / 2 else None


def _best_gap(names: list[str], mids: Array, kinds: NDArray[np.str_], i: int) -> Move:
    """Return the gap that a paint, taken out of the order, lengthens least."""
    rest = np.delete(np.arange(len(names)), i)
    far = delta_e_2000(mids[rest], mids[i])
    between = delta_e_2000(mids[rest[:-1]], mids[rest[1:]])
    lengthens = np.concatenate([[far[0]], far[:-1] + far[1:] - between, [far[-1]]])
    own = kinds[rest] == kinds[i]
    beside = np.concatenate([own, [False]]) | np.concatenate([[False], own])
    cost = np.where(beside, lengthens, np.inf)
    gap = int(np.argmin(cost))
    before = names[rest[gap - 1]] if gap > 0 else None
    after = names[rest[gap]] if gap < len(rest) else None
    return Move(names[i], before, after, float(lengthens[i] - cost[gap]))
