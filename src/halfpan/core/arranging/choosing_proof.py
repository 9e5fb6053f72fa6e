"""Prove that no set of paints reaches more: try every set, leaving out whole families that cannot.

A family is some paints that are in and some that may still come in. It reaches at most what those in reach,
with what each further paint brings by itself and what each further pair brings on top. Where there is no
time for all sets, those that differ from the best in few paints are tried, and `choosing_bound` tells what
none can pass.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.choosing import Conditions, allowed_paints, choose
from halfpan.core.arranging.choosing_bound import bound_of_all
from halfpan.core.arranging.reach import ReachTable

Array = NDArray[np.float64]
Numbers = NDArray[np.int64]
Flags = NDArray[np.bool_]
Places = NDArray[np.intp]
Words = NDArray[np.uint64]


@dataclass(frozen=True, slots=True)
class Proof:
    """The best set known, what it reaches, and how many cells no set can pass.

    ``exchanged``: no set that differs from it in so many paints, or fewer, reaches more.
    """

    paints: tuple[int, ...]
    cells: int
    bound: int
    exchanged: int

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

    Half the time goes into trying every set, leaving out families that cannot be better; if that was not
    enough, a quarter into exchanging more and more paints of the best one, and a quarter into a bound.

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
    known = _Known(first.cells, first.paints)
    if _try_all(table, count, conditions, known, lambda: clock() > end - seconds / 2):
        return Proof(known.paints, known.cells, known.cells, count)
    exchanged = _try_near(table, count, conditions, known, lambda: clock() > end - seconds / 4)
    allowed = allowed_paints(table, conditions)
    bound = bound_of_all(table, count, conditions, allowed, left=lambda: end - clock())
    return Proof(known.paints, known.cells, max(known.cells, int(bound + 1e-6)), exchanged)


@dataclass(slots=True, eq=False)
class _Known:
    """The best set so far."""

    cells: int
    paints: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Family:
    """Paints that are ``inside``, what they reach, and those that ``may`` come in until ``left`` are added.

    ``star``, shape (paints, words), is what each paint reaches with water and with those inside.
    """

    inside: tuple[int, ...]
    reached: Words
    star: Words
    may: Places
    left: int

    def with_(self, table: ReachTable, paint: int, may: Places) -> _Family:
        """Return the family with one paint more inside."""
        return _Family(
            (*self.inside, paint),
            self.reached | self.star[paint],
            self.star | table.bits[:, paint],
            may,
            self.left - 1,
        )


def _try_all(
    table: ReachTable, count: int, conditions: Conditions, known: _Known, late: Callable[[], bool]
) -> bool:
    """Better the set known by every set there is; returns whether there was time for all."""
    own = table.bits[np.arange(table.paints), np.arange(table.paints)]
    may = np.flatnonzero(allowed_paints(table, conditions))
    start = _Family((), np.zeros_like(own[0]), own, may, count)
    for paint in sorted(conditions.must):
        start = start.with_(table, paint, start.may[start.may != paint])
    return _try_family(table, conditions, start, known, late)


def _try_near(
    table: ReachTable, count: int, conditions: Conditions, known: _Known, late: Callable[[], bool]
) -> int:
    """Better the set known by exchanging one of its paints, then two, and so on, as long as there is time.

    Returns how many were exchanged in every way. A better set is a new beginning.
    """
    nothing = np.zeros_like(table.bits[0, 0])
    own = table.bits[np.arange(table.paints), np.arange(table.paints)]
    allowed = allowed_paints(table, conditions)
    exchanged = 0
    while exchanged < count - len(conditions.must):
        base = known.paints
        others = allowed.copy()
        others[list(base)] = False
        may = np.flatnonzero(others)
        loose = sorted(set(base) - conditions.must)
        for out in combinations(loose, exchanged + 1):
            family = _Family((), nothing, own, may, count)
            for paint in sorted(set(base) - set(out)):
                family = family.with_(table, paint, may)
            if not _try_family(table, conditions, family, known, late):
                return exchanged if known.paints == base else 0
        exchanged = exchanged + 1 if known.paints == base else 0
    return exchanged


def _try_family(
    table: ReachTable, conditions: Conditions, family: _Family, known: _Known, late: Callable[[], bool]
) -> bool:
    """Better the set known by every set of a family; returns whether there was time."""
    if late():
        return False
    if family.left < 3:
        _try_last(table, conditions, family, known)
        return True
    return len(family.may) < family.left or all(
        _try_family(table, conditions, smaller, known, late) for smaller in _smaller(table, family, known)
    )


def _try_last(table: ReachTable, conditions: Conditions, family: _Family, known: _Known) -> None:
    """Try every way to add the last two paints, or one, or none."""
    if len(family.may) < family.left:
        return
    if family.left == 2:
        first, second = np.triu_indices(len(family.may), 1)
        added = np.stack([family.may[first], family.may[second]])
        brought = family.star[added[0]] | family.star[added[1]] | table.bits[added[0], added[1]]
    elif family.left == 1:
        added, brought = family.may[None], family.star[family.may]
    else:
        added, brought = np.empty((0, 1), dtype=np.intp), np.zeros_like(family.reached)[None]
    cells = np.where(_fits(table, conditions, family.inside, added), _count(brought | family.reached), -1)
    best = int(np.argmax(cells))
    if cells[best] > known.cells:
        known.cells = int(cells[best])
        known.paints = tuple(sorted((*family.inside, *added[:, best].tolist())))


def _fits(table: ReachTable, conditions: Conditions, inside: tuple[int, ...], added: Places) -> Flags:
    """Say of each way to fill up the set, shape (left, ways), whether it keeps to the conditions."""
    fits = np.ones(added.shape[1], dtype=bool)
    for group in conditions.one_of:
        if not group & set(inside):
            member = np.isin(np.arange(table.paints), list(group))
            fits &= member[added].any(axis=0)
    if conditions.budget is not None:
        price = np.asarray(conditions.price, dtype=float)
        fits &= price[list(inside)].sum() + price[added].sum(axis=0) <= conditions.budget + 1e-9
    return fits


def _smaller(table: ReachTable, family: _Family, known: _Known) -> Iterator[_Family]:
    """Part a family by which of its paints comes in first, most promising first, as long as it may better."""
    may, left = family.may, family.left
    base = int(_count(family.reached))
    alone, together = _gains(table, family)
    while True:
        score = alone + -np.partition(-together, left - 2, axis=1)[:, : left - 1].sum(axis=1) / 2
        order = np.argsort(-score, kind="stable")
        ranked = score[order]
        best = ranked[:left].sum()
        with_each = np.where(np.arange(len(may)) < left, best, ranked[: left - 1].sum() + ranked)
        keep = base + with_each > known.cells + _SLACK
        if keep.sum() < left:
            return
        if keep.all():
            break
        some = np.sort(order[keep])
        may, alone, together = may[some], alone[some], together[np.ix_(some, some)]
    may = may[order]
    for k in range(len(may) - left + 1):
        if base + ranked[k : k + left].sum() <= known.cells + _SLACK:
            return
        yield family.with_(table, int(may[k]), may[k + 1 :])


_SLACK = 1 - 1e-6  # cells are whole: less than one more is none


def _gains(table: ReachTable, family: _Family) -> tuple[Array, Array]:
    """Return what each paint brings alone, and at most with each other one on top of that, shape (may, may).

    Of two paints the union can be counted exactly, overlap and all, of more it cannot. Any pairing off of the
    paints added may be counted so, and the rest of the pairs by what only the two together reach; the mean
    over all pairings is a bound as well. The diagonal is -inf.
    """
    new = family.star[family.may] & ~family.reached
    first, second = np.triu_indices(len(family.may), 1)
    either = new[first] | new[second]
    on_top = _count(table.bits[family.may[first], family.may[second]] & ~family.reached & ~either)
    alone = _count(new).astype(float)
    overlap = alone[first] + alone[second] - _count(either)
    share = 1 / (family.left - 1 if family.left % 2 == 0 else family.left)
    together = np.full((len(family.may),) * 2, -np.inf)
    together[first, second] = together[second, first] = on_top - share * overlap
    return alone, together


def _count(words: Words) -> Numbers:
    return np.asarray(np.bitwise_count(words).sum(axis=-1, dtype=np.int64))
