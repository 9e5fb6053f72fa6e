"""How many cells no set of paints can pass, where not every set can be tried.

The task is loosened so that a paint may be taken in part, which a linear program solves. What keeps it
honest: every paint taken is paired with all others taken, and a cell is reached through one pair only, so
that its pairs count no more than the paints they share. Rows that say so are put in where they are broken.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import OptimizeResult, linprog
from scipy.sparse import coo_array, csr_array, vstack

from halfpan.core.arranging.choosing import Conditions
from halfpan.core.arranging.reach import ReachTable

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]

SETTLED = 1e-6  # a share so near to none or all is none or all
SLACK = 0.99  # cells are whole: less than one more is none; a hundredth of a cell is left to the solver


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """So many paints of a table, under conditions."""

    table: ReachTable
    count: int
    conditions: Conditions


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


@dataclass(frozen=True, slots=True, eq=False)
class _Program:
    """The loosened task and the rows found broken so far; first of them one for each kind of cell."""

    loose: _Loose
    rows: csr_array

    def with_rows(self, rows: csr_array) -> _Program:
        """Return the program with more rows."""
        return _Program(self.loose, vstack([self.rows, rows]).tocsr())

    def without(self, leaves: Flags) -> _Program:
        """Return the program without some of its paints."""
        loose, columns = _without(self.loose, ~leaves)
        return _Program(loose, self.rows[:, columns])

    def pruned(self, slack: Array) -> _Program:
        """Return the program without the rows that have some slack, shape (rows,), but for the first."""
        keep = slack < _TIGHT
        keep[: self.loose.sizes[2]] = True
        return _Program(self.loose, self.rows[np.flatnonzero(keep)])


@dataclass(frozen=True, slots=True, eq=False)
class Family:
    """All sets that hold every paint of ``must``, and none but those of ``may``, which holds them too.

    ``program`` is what an earlier bound found out, for the next to go on from.
    """

    may: Places
    must: frozenset[int]
    program: _Program | None = None

    def parted(self, place: int) -> tuple[Family, Family]:
        """Return the sets that hold the paint at a place of ``may``, and those that do not."""
        leaves = np.arange(len(self.may)) == place
        smaller = None if self.program is None else self.program.without(leaves)
        return (
            Family(self.may, self.must | {int(self.may[place])}, self.program),
            Family(self.may[~leaves], self.must, smaller),
        )


@dataclass(frozen=True, slots=True, eq=False)
class Bound:
    """What is known of a family.

    ``cells`` none of its sets can pass. ``family`` is what is left of it: paints that no better set takes, or
    leaves out, are settled. ``shares``, shape (paints left,), are how much of each the loosened task takes.
    ``whole`` says whether there was time to go as far as is worth while; then, where no share is in parts,
    ``cells`` is what that set reaches.
    """

    cells: float
    family: Family
    shares: Array
    whole: bool


def bound_of(task: Task, family: Family, *, known: int, left: Callable[[], float]) -> Bound:
    """Return a number of cells that no set of a family can pass.

    Parameters
    ----------
    task : Task
        Of its conditions, groups and budget; what is allowed and what must be in, the family says.
    family : Family
    known
        Cells that a set is known to reach: better ones only are looked for.
    left
        How many seconds are left; the more, the lower the bound.
    """
    program = family.program or _begun(task.table, family.may)
    bound = Bound(float(program.loose.weight.sum()), family, np.zeros(len(family.may)), whole=False)
    while left() > 0:
        answer = _solved(program, task, bound.family.must, left())
        if answer.status == _NO_SET:
            return replace(bound, cells=-np.inf, whole=True)
        if answer.status != 0:
            return bound
        cells, shares = -float(answer.fun), answer.x[: len(bound.family.may)]
        broken = _broken(program.loose, answer.x)
        in_parts = np.any(np.minimum(shares, 1 - shares) > SETTLED)
        stalls = in_parts and bound.cells - cells < _WORTH * (cells - known)
        whole = bool(stalls or not broken.shape[0] or cells < known + SLACK)
        if whole:
            program = program.pruned(answer.ineqlin.residual[-program.rows.shape[0] :])
        must, leaves = _settled(program.loose, bound.family.must, answer, known)
        program = program.with_rows(broken).without(leaves)
        bound = Bound(cells, Family(program.loose.paints, must, program), shares[~leaves], whole)
        if whole:
            break
    return bound


def _settled(
    loose: _Loose, must: frozenset[int], answer: OptimizeResult, known: int
) -> tuple[frozenset[int], Flags]:
    """Return what every better set holds, and which paints, shape (paints,), no better set holds."""
    n, cells = len(loose.paints), -answer.fun
    out = cells - answer.lower.marginals[:n] < known + SLACK
    in_ = cells + answer.upper.marginals[:n] < known + SLACK
    more = must | frozenset(loose.paints[in_ & ~out].tolist())
    return more, out & ~np.isin(loose.paints, list(more))


_TIGHT = 1e-7  # a row with more slack than that is not what holds an answer
_WORTH = 0.05  # a round of cuts that closes less than this part of what is open yet is the last


def _begun(table: ReachTable, paints: Places) -> _Program:
    loose = _loosened(table, paints)
    return _Program(loose, _cover(loose, [(cell, ()) for cell in range(loose.sizes[2])]))


_NO_SET = 2  # linprog's status for a task that no answer meets


def _solved(program: _Program, task: Task, must: frozenset[int], seconds: float) -> OptimizeResult:
    """Solve the loosened task with the rows there are."""
    loose, rows = program.loose, program.rows
    n, pairs, kinds = loose.sizes
    equal, sums = _paired(loose, task.count)
    asked, limits = _asked(loose, task.conditions)
    low = np.concatenate([np.isin(loose.paints, list(must)), np.zeros(pairs + kinds)])
    return linprog(
        -np.concatenate([np.zeros(n + pairs), loose.weight]),
        A_ub=vstack([asked, rows]), b_ub=np.concatenate([limits, np.zeros(rows.shape[0])]),
        A_eq=equal, b_eq=sums, bounds=np.column_stack([low, np.ones(len(low))]),
        method="highs-ds",
        options={"time_limit": seconds},
    )  # fmt: skip


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


def _asked(loose: _Loose, conditions: Conditions) -> tuple[csr_array, Array]:
    """Return the rows of: a group one of its own, prices keep to the budget."""
    n, pairs, kinds = loose.sizes
    of_paints = [-np.isin(loose.paints, list(group)).astype(float) for group in conditions.one_of]
    limits = [-1.0] * len(of_paints)
    if conditions.budget is not None:
        of_paints.append(np.asarray(conditions.price, dtype=float)[loose.paints])
        limits.append(conditions.budget)
    values = np.array(of_paints).reshape(-1, n)
    more = np.hstack([values, np.zeros((len(of_paints), pairs + kinds))])
    return csr_array(more), np.array(limits)


def _broken(loose: _Loose, shares: Array) -> csr_array:
    """Return the rows that an answer breaks: a pair counts no more than its paints, a cell than its pairs."""
    n, pairs, kinds = loose.sizes
    over = [
        np.flatnonzero(shares[n : n + pairs] > shares[paints] + 1e-7)
        for paints in (loose.first, loose.second)
    ]
    pair = np.concatenate(over)
    paint = np.concatenate([loose.first[over[0]], loose.second[over[1]]])
    each = np.arange(len(pair))
    values = np.concatenate([np.ones(len(pair)), -np.ones(len(pair))])
    where = (np.concatenate([each, each]), np.concatenate([n + pair, paint]))
    both = coo_array((values, where), shape=(len(pair), n + pairs + kinds)).tocsr()
    cuts = _cuts(loose, shares)
    return vstack([both, _cover(loose, cuts)]) if cuts else both


def _without(loose: _Loose, stays: Flags) -> tuple[_Loose, Places]:
    """Return the task without some paints, and which columns of the old one are left."""
    number = np.cumsum(stays) - 1
    both = stays[loose.first] & stays[loose.second]
    left = replace(
        loose,
        paints=loose.paints[stays],
        first=number[loose.first[both]],
        second=number[loose.second[both]],
        alone=loose.alone[stays],
        pairs=loose.pairs[both],
    )
    return left, np.flatnonzero(np.concatenate([stays, both, np.ones(loose.sizes[2], dtype=bool)]))


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
