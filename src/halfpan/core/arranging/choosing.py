"""Choose a few paints out of many, so that their mixes reach most.

The reach of a set is that of `reach.ReachTable`: every pair counts, not a polygon of masstones. Sets are
built up greedily and bettered by single swaps from several beginnings; `choosing_proof` tells how far from
the best that may be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.reach import ReachTable
from halfpan.errors import BadRequest

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a set has to keep to.

    ``allowed`` are the paints that may be taken at all (None: every one), ``must`` those that have to be in;
    of each group in ``one_of`` at least one has to be in. ``price`` may hold nan for an unknown price: such a
    paint is not taken under a budget.
    """

    allowed: frozenset[int] | None = None
    must: frozenset[int] = frozenset()
    one_of: tuple[frozenset[int], ...] = ()
    price: tuple[float, ...] = ()
    budget: float | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """A set of paints and what it reaches.

    ``share`` is of all that every allowed paint together reaches. ``add_next`` and ``drop_next`` are paints
    with how many cells they would bring or cost.
    """

    paints: tuple[int, ...]
    cells: int
    share: float
    add_next: tuple[int, int] | None
    drop_next: tuple[int, int] | None


def choose(
    table: ReachTable, count: int, conditions: Conditions = Conditions(), *, sets: int = 3
) -> tuple[Choice, ...]:
    """Choose paints that reach most together.

    Parameters
    ----------
    table : ReachTable
    count
        How many paints.
    conditions : Conditions
    sets
        How many different good sets to return, best first. Each differs from the best by a third of it.

    Raises
    ------
    BadRequest
        If no set can keep to the conditions.
    """
    allowed = allowed_paints(table, conditions)
    best = _best(table, count, allowed, conditions)
    chosen = [best]
    loose = [paint for paint in _by_loss(table, best) if paint not in conditions.must]
    third = max(1, count // 3)
    for k in range(1, sets):
        without = loose[(k - 1) * third : k * third]
        mask = allowed.copy()
        mask[without] = False
        try:
            other = _best(table, count, mask, conditions)
        except BadRequest:
            break
        if not without or sorted(other) in [sorted(done) for done in chosen]:
            break
        chosen.append(other)
    answers = [choice_of(table, paints, conditions) for paints in chosen]
    return tuple(sorted(answers, key=lambda choice: -choice.cells))


def allowed_paints(table: ReachTable, conditions: Conditions) -> Flags:
    """Say of each paint, shape (paints,), whether the conditions let it be taken."""
    allowed = np.ones(table.paints, dtype=bool)
    if conditions.allowed is not None:
        allowed[:] = False
        allowed[list(conditions.allowed)] = True
    if conditions.budget is not None:
        allowed &= np.isfinite(np.asarray(conditions.price, dtype=float))
    allowed[list(conditions.must)] = True
    return allowed


def _best(table: ReachTable, count: int, allowed: Flags, conditions: Conditions) -> list[int]:
    if count > allowed.sum():
        raise BadRequest(
            f"Only {int(allowed.sum())} paints meet the conditions, and {count} are wanted: loosen one."
        )
    if len(conditions.must) > count:
        raise BadRequest(f"{len(conditions.must)} paints must be in a set of {count}: take one off.")
    starts = [_begin(table, count, allowed, conditions, skip) for skip in range(_BEGINNINGS)]
    whole = [paints for paints in starts if paints is not None]
    if not whole:
        raise BadRequest("No set of that size keeps to all the conditions: loosen one or raise the budget.")
    bettered = [_swap(table, paints, allowed, conditions) for paints in whole]
    return max(bettered, key=table.count)


_BEGINNINGS = 8


def _begin(
    table: ReachTable, count: int, allowed: Flags, conditions: Conditions, skip: int
) -> list[int] | None:
    """Build a set greedily; ``skip`` leaves out that many of the best first paints, for another beginning."""
    paints = [int(paint) for paint in sorted(conditions.must)]
    skipped: set[int] = set()
    brought = _brought(table, paints)
    base = table.union(paints)
    while len(paints) < count:
        may = allowed.copy()
        may[paints] = False
        may[list(skipped)] = False
        may &= _keeps(paints, count - len(paints) - 1, conditions, table.paints, allowed)
        if not may.any():
            return None
        best = int(np.argmax(np.where(may, _cells_in(brought | base), -1)))
        if len(skipped) < skip and len(paints) == len(conditions.must):
            skipped.add(best)
            continue
        paints.append(best)
        base = base | brought[best]
        brought |= table.bits[best]
    return paints


def _counts_with(table: ReachTable, paints: Sequence[int]) -> NDArray[np.int64]:
    """Return how many cells the set reaches with each paint added, shape (paints,)."""
    return _cells_in(_brought(table, paints) | table.union(paints))


def _brought(table: ReachTable, paints: Sequence[int]) -> NDArray[np.uint64]:
    """Return what each paint reaches alone and with each of a set, as bits, shape (paints, words)."""
    brought = table.bits[np.arange(table.paints), np.arange(table.paints)]
    for paint in paints:
        brought |= table.bits[paint]
    return brought


def _cells_in(words: NDArray[np.uint64]) -> NDArray[np.int64]:
    """Return how many cells are reached, shape (...), by bits, shape (..., words)."""
    return np.bitwise_count(words).sum(axis=-1, dtype=np.int64)


def _counts_exchanged(table: ReachTable, paints: Sequence[int]) -> NDArray[np.int64]:
    """Return how many cells are reached with each paint of the set out and each in, shape (set, paints)."""
    before = _brought(table, ())
    brought = np.empty((len(paints), *before.shape), dtype=before.dtype)
    for out, paint in enumerate(paints):
        brought[out] = before
        before |= table.bits[paint]
    after = np.zeros_like(before)
    for out in range(len(paints))[::-1]:
        brought[out] |= after
        after |= table.bits[paints[out]]
    rest = brought[:, list(paints)]
    rest[np.arange(len(paints)), np.arange(len(paints))] = 0
    base = np.bitwise_or.reduce(rest, axis=1)
    return _cells_in(brought | base[:, None])


def _keeps(paints: Sequence[int], left: int, conditions: Conditions, total: int, allowed: Flags) -> Flags:
    """Say of each paint whether the set with it and ``left`` more can still keep to the conditions."""
    fine = np.ones(total, dtype=bool)
    open_groups = [group for group in conditions.one_of if not group & set(paints)]
    if len(open_groups) > left:
        meets = np.zeros(total, dtype=np.int64)
        for group in open_groups:
            meets[list(group)] += 1
        fine &= meets >= min(len(open_groups) - left, meets[allowed].max(initial=0))
        if not meets[allowed].any():
            return np.zeros(total, dtype=bool)
    if conditions.budget is not None:
        price = np.asarray(conditions.price, dtype=float)
        cheapest = np.sort(price[allowed & np.isfinite(price)])[:left].sum()
        spent = price[list(paints)].sum()
        fine &= np.nan_to_num(price, nan=np.inf) + spent + cheapest <= conditions.budget + 1e-9
    return fine


def _swap(table: ReachTable, paints: list[int], allowed: Flags, conditions: Conditions) -> list[int]:
    """Return the set when no exchange of one paint betters it any more."""
    paints, reached = list(paints), table.count(paints)
    while True:
        best, best_gain = None, 0
        for out, counts in enumerate(_counts_exchanged(table, paints)):
            if paints[out] in conditions.must:
                continue
            rest = paints[:out] + paints[out + 1 :]
            may = allowed & _keeps(rest, 0, conditions, table.paints, allowed)
            may[paints] = False
            counts[~may] = -1
            new = int(np.argmax(counts))
            if counts[new] - reached > best_gain:
                best, best_gain = [*rest, new], int(counts[new]) - reached
        if best is None:
            return paints
        paints, reached = best, reached + best_gain


def _by_loss(table: ReachTable, paints: Sequence[int]) -> list[int]:
    """Return the paints of a set, first the one that would be missed least."""
    reached = table.count(paints)
    loss = {paint: reached - table.count([p for p in paints if p != paint]) for paint in paints}
    return sorted(paints, key=lambda paint: (loss[paint], paint))


def choice_of(table: ReachTable, paints: Sequence[int], conditions: Conditions = Conditions()) -> Choice:
    """Return what a set reaches, and what to add or drop next."""
    allowed = allowed_paints(table, conditions)
    everything = table.count(list(np.flatnonzero(allowed)))
    reached = table.count(paints)
    gains = np.where(allowed, _counts_with(table, paints), 0) - reached
    gains[list(paints)] = 0
    add = int(np.argmax(gains))
    loose = [paint for paint in _by_loss(table, paints) if paint not in conditions.must]
    drop = loose[0] if loose else None
    lost = 0 if drop is None else reached - table.count([p for p in paints if p != drop])
    return Choice(
        tuple(sorted(int(paint) for paint in paints)),
        reached,
        reached / everything if everything else 0.0,
        (add, int(gains[add])) if gains[add] > 0 else None,
        None if drop is None else (drop, lost),
    )
