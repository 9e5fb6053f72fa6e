"""Prove that no set of paints reaches more, or say how many cells none can pass.

All sets are parted by whether a paint is in, most promising part first, and a part is left out when
`choosing_bound` shows that none of its sets reaches more than the best known.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import count as counting

import numpy as np

from halfpan.core.arranging.choosing import Conditions, allowed_paints, choose
from halfpan.core.arranging.choosing_bound import SETTLED, SLACK, Bound, Family, Task, bound_of
from halfpan.core.arranging.reach import ReachTable


@dataclass(frozen=True, slots=True)
class Proof:
    """The best set known, what it reaches, and how many cells no set can pass."""

    paints: tuple[int, ...]
    cells: int
    bound: int

    @property
    def proved(self) -> bool:
        """Whether no set reaches more."""
        return self.bound <= self.cells


def prove_choice(
    table: ReachTable,
    count: int,
    conditions: Conditions,
    *,
    seconds: float,
    clock: Callable[[], float],
) -> Proof:
    """Prove the best choice, or say how much better one may be.

    Parameters
    ----------
    table : ReachTable
    count
        How many paints.
    conditions : Conditions
    seconds
        How long it may take, by ``clock``; a little more is possible.
    clock
        Seconds, rising, such as `time.monotonic`.

    Raises
    ------
    BadRequest
        If no set can keep to the conditions.
    """
    end = clock() + seconds
    first = choose(table, count, conditions, sets=1)[0]
    best = _Best(first.cells, first.paints)
    allowed = np.flatnonzero(allowed_paints(table, conditions))
    task, serial = Task(table, count, conditions), counting()
    open_ = [(-float(table.count(allowed.tolist())), next(serial), Family(allowed, conditions.must))]
    while open_ and -open_[0][0] >= best.cells + SLACK and clock() < end:
        most, _, family = heappop(open_)
        found = bound_of(task, family, known=best.cells, left=lambda: end - clock())
        for smaller in _parted(table, found, best):
            heappush(open_, (max(most, -found.cells), next(serial), smaller))
    bound = int(-open_[0][0] + 1e-6) if open_ else best.cells
    return Proof(best.paints, best.cells, max(best.cells, bound))


@dataclass(slots=True, eq=False)
class _Best:
    """The best set so far."""

    cells: int
    paints: tuple[int, ...]


def _parted(table: ReachTable, found: Bound, best: _Best) -> list[Family]:
    """Return the parts of a family that have to be looked at yet; where it is one set, see to that."""
    if found.cells < best.cells + SLACK:
        return []
    if not found.whole:
        return [found.family]
    paint = int(np.argmin(np.abs(found.shares - 0.5)))
    if min(found.shares[paint], 1 - found.shares[paint]) < SETTLED:
        paints = found.family.may[found.shares > 0.5].tolist()
        best.cells, best.paints = table.count(paints), tuple(sorted(paints))
        return []
    return list(found.family.parted(paint))
