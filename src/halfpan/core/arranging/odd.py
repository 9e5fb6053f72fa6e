"""These neighbours look odd: steps in an order that are far above those around them, with a move proposed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.order import OrderRule, place
from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.colour.difference import delta_e_2000

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class OddRule:
    """When a step is odd: ``times`` the median of up to ``around`` steps on either side, and ``least``.

    Differences are CIEDE2000 at mid strength. A step from one family to the next is never odd.
    """

    times: float = 3.0
    least: float = 8.0
    around: int = 4


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
) -> tuple[Odd, ...]:
    """Return the odd pairs of an order, the worst first.

    Parameters
    ----------
    order : sequence of str
        Paints in the order to be looked at; those without a reading at mid strength are passed over.
    painted : mapping
        What is known of each paint.
    """
    used = rule or OddRule()
    names = [paint for paint in order if paint in painted]
    mids = colours([painted[paint] for paint in names])[:, 1]
    read = np.flatnonzero(np.isfinite(mids).all(axis=1))
    names, mids = [names[i] for i in read], mids[read]
    if len(names) < 3:
        return ()
    kinds = [place(painted[paint], families or OrderRule()).family for paint in names]
    steps = delta_e_2000(mids[:-1], mids[1:])
    inside = np.array([a == b for a, b in pairwise(kinds)], dtype=bool)
    odd = []
    for i in np.flatnonzero(inside & (steps > used.least)):
        usual = _usual(steps, inside, int(i), used.around)
        if usual is not None and steps[i] > used.times * usual:
            move = _move(names, mids, kinds, (int(i), int(i) + 1))
            odd.append(Odd(names[i], names[i + 1], float(steps[i]), usual, move))
    return tuple(sorted(odd, key=lambda o: -o.step))


def _usual(steps: Array, inside: NDArray[np.bool_], i: int, around: int) -> float | None:
    near = [j for j in range(max(0, i - around), min(len(steps), i + around + 1)) if j != i and inside[j]]
    return float(np.median(steps[near])) if len(near) >= 2 else None


def _move(names: list[str], mids: Array, kinds: Sequence[str], pair: tuple[int, int]) -> Move | None:
    """Try both paints of an odd pair in every gap of their own family; the best must halve the step."""
    best = max((_best_gap(names, mids, kinds, i) for i in pair), key=lambda move: move.shorter)
    step = float(delta_e_2000(mids[pair[0]], mids[pair[1]]))
    return best if best.shorter > step / 2 else None


def _best_gap(names: list[str], mids: Array, kinds: Sequence[str], i: int) -> Move:
    def between(a: int | None, b: int | None) -> float:
        return 0.0 if a is None or b is None else float(delta_e_2000(mids[a], mids[b]))

    rest: list[int | None] = [None, *(j for j in range(len(names)) if j != i), None]
    here = rest.index(i - 1) if i else 0
    gain = between(rest[here], i) + between(i, rest[here + 1]) - between(rest[here], rest[here + 1])
    moves = []
    for before, after in pairwise(rest):
        if any(side is not None and kinds[side] == kinds[i] for side in (before, after)):
            cost = between(before, i) + between(i, after) - between(before, after)
            ends = [None if side is None else names[side] for side in (before, after)]
            moves.append(Move(names[i], ends[0], ends[1], gain - cost))
    return max(moves, key=lambda move: move.shorter)
