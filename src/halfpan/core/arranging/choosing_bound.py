"""How many cells no set of paints can pass, where not every set can be tried.

The task is loosened so that a paint may be taken in part, which a linear program solves. What keeps it
honest: every paint taken is paired with all others taken, and a cell is reached through one pair only, so
that its pairs count no more than the paints they share.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog
from scipy.sparse import coo_array, csr_array, vstack

from halfpan.core.arranging.choosing import Conditions
from halfpan.core.arranging.reach import ReachTable

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]

_CUTS = 12  # rounds of cuts at most; the last ones move the bound by less than a cell in a thousand


@dataclass(frozen=True, slots=True, eq=False)
class _Loose:
    """The loosened task: a share for each paint, each pair of two (``first``, ``second``), each kind of cell.

    ``alone``, shape (paints, cells), and ``pairs``, shape (pairs, cells), say who reaches a cell; a pair is
    left out where one of its paints does alone. ``weight`` is how many cells are of one kind.
    """

    paints: Places
    first: Places
    second: Places
    alone: Flags
    pairs: Flags
    weight: Array

    @property
    def sizes(self) -> tuple[int, int, int]:
        return len(self.paints), len(self.first), len(self.weight)


def bound_of_all(
    table: ReachTable, count: int, conditions: Conditions, allowed: Flags, *, left: Callable[[], float]
) -> float:
    """Return a number of cells that no set of so many paints can pass.

    Parameters
    ----------
    table : ReachTable
    count
        How many paints.
    conditions : Conditions
    allowed : array, shape (paints,), which may be taken
    left
        How many seconds are left; the more, the lower the bound.
    """
    loose = _loosened(table, np.flatnonzero(allowed))
    n, pairs, kinds = loose.sizes
    reach = -np.concatenate([np.zeros(n + pairs), loose.weight])
    equal, sums = _paired(loose, count)
    under, most = _side(loose, conditions)
    under = vstack([under, _cover(loose, [(cell, ()) for cell in range(kinds)])])
    most = np.concatenate([most, np.zeros(kinds)])
    low = np.concatenate([np.isin(loose.paints, list(conditions.must)), np.zeros(pairs + kinds)])
    box = np.column_stack([low, np.ones(len(low))])
    bound = float(loose.weight.sum())
    for _ in range(_CUTS):
        seconds = left()
        if seconds <= 0:
            break
        answer = linprog(
            reach,
            A_ub=under, b_ub=most, A_eq=equal, b_eq=sums, bounds=box,
            method="highs-ipm",
            options={"time_limit": seconds},
        )  # fmt: skip
        if answer.status != 0:
            break
        bound = min(bound, -float(answer.fun))
        cuts = _cuts(loose, answer.x)
        if not cuts:
            break
        under = vstack([under, _cover(loose, cuts)])
        most = np.concatenate([most, np.zeros(len(cuts))])
    return bound


def _loosened(table: ReachTable, paints: Places) -> _Loose:
    first, second = np.triu_indices(len(paints), 1)
    cells = len(table.cells)
    alone = _flags(table.bits[paints, paints], cells)
    pairs = _flags(table.bits[paints[first], paints[second]], cells) & ~alone[first] & ~alone[second]
    reached = alone.any(axis=0) | pairs.any(axis=0)
    kinds, weight = np.unique(np.vstack([alone, pairs])[:, reached], axis=1, return_counts=True)
    n = len(paints)
    return _Loose(paints, first, second, kinds[:n], kinds[n:], weight.astype(float))


def _flags(words: NDArray[np.uint64], cells: int) -> Flags:
    return np.unpackbits(words.view(np.uint8), axis=-1, bitorder="little")[..., :cells].astype(bool)


def _paired(loose: _Loose, count: int) -> tuple[csr_array, Array]:
    """Return the rows of: so many paints in all, and each paired with all but itself."""
    n, pairs, kinds = loose.sizes
    each = np.arange(pairs)
    rows = np.concatenate([loose.first, loose.second, np.arange(n), np.full(n, n)])
    columns = np.concatenate([n + each, n + each, np.arange(n), np.arange(n)])
    values = np.concatenate([np.ones(2 * pairs), np.full(n, 1.0 - count), np.ones(n)])
    matrix = coo_array((values, (rows, columns)), shape=(n + 1, n + pairs + kinds)).tocsr()
    return matrix, np.append(np.zeros(n), float(count))


def _side(loose: _Loose, conditions: Conditions) -> tuple[csr_array, Array]:
    """Return the rows of: a pair needs both its paints, a group one of its own, prices keep to the budget."""
    n, pairs, kinds = loose.sizes
    each = np.arange(pairs)
    rows = np.concatenate([each, each, pairs + each, pairs + each])
    columns = np.concatenate([n + each, loose.first, n + each, loose.second])
    values = np.concatenate([np.ones(pairs), -np.ones(pairs)] * 2)
    both = coo_array((values, (rows, columns)), shape=(2 * pairs, n + pairs + kinds)).tocsr()
    of_paints = [-np.isin(loose.paints, list(group)).astype(float) for group in conditions.one_of]
    limits = [-1.0] * len(of_paints)
    if conditions.budget is not None:
        of_paints.append(np.asarray(conditions.price, dtype=float)[loose.paints])
        limits.append(conditions.budget)
    if not of_paints:
        return both, np.zeros(2 * pairs)
    more = np.hstack([np.array(of_paints), np.zeros((len(of_paints), pairs + kinds))])
    return vstack([both, csr_array(more)]), np.concatenate([np.zeros(2 * pairs), limits])


def _cover(loose: _Loose, cuts: list[tuple[int, tuple[int, ...]]]) -> csr_array:
    """Return rows of: a cell is reached by a paint named or alone, or by a pair of none of these."""
    n, pairs, kinds = loose.sizes
    rows, columns, values = [], [], []
    for row, (cell, named) in enumerate(cuts):
        counted = loose.alone[:, cell].copy()
        counted[list(named)] = True
        rest = loose.pairs[:, cell] & ~counted[loose.first] & ~counted[loose.second]
        reaching = np.concatenate([np.flatnonzero(counted), n + np.flatnonzero(rest)])
        rows.append(np.full(len(reaching) + 1, row))
        columns.append(np.append(reaching, n + pairs + cell))
        values.append(np.append(-np.ones(len(reaching)), 1.0))
    where = (np.concatenate(rows), np.concatenate(columns))
    return coo_array((np.concatenate(values), where), shape=(len(cuts), n + pairs + kinds)).tocsr()


def _cuts(loose: _Loose, shares: Array) -> list[tuple[int, tuple[int, ...]]]:
    """Return cells that are counted too high, with the paints whose pairs count more than they do."""
    n, pairs, _ = loose.sizes
    taken, paired, counted = np.split(shares, [n, n + pairs])
    cuts = []
    for cell, share in enumerate(counted):
        some = np.flatnonzero(loose.pairs[:, cell] & (paired > 1e-9))
        first, second, open_ = loose.first[some], loose.second[some], paired[some].copy()
        reached, named = taken[loose.alone[:, cell]].sum() + open_.sum(), []
        while True:
            over = np.bincount(first, open_, n) + np.bincount(second, open_, n) - taken
            paint = int(np.argmax(over))
            if over[paint] <= 1e-7:
                break
            named.append(paint)
            reached -= over[paint]
            open_[(first == paint) | (second == paint)] = 0.0
        if named and reached < share - 1e-4:
            cuts.append((cell, tuple(named)))
    return cuts
