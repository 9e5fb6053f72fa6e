"""Proving a choice: every set tried one by one, and scipy's milp on the plain task, as oracles."""

from __future__ import annotations

from itertools import combinations, count

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from halfpan.core.arranging.choosing import Conditions, choose
from halfpan.core.arranging.choosing_bound import Family, Task, bound_of
from halfpan.core.arranging.choosing_proof import prove_choice
from halfpan.core.arranging.reach import ReachTable
from halfpan.errors import BadRequest


def chance_table(paints, cells, seed):
    """A table of made-up reach: a paint alone reaches a few cells, a pair those of both and a few more."""
    rng = np.random.default_rng(seed)
    flags = np.zeros((paints, paints, 64 * ((cells + 63) // 64)), dtype=bool)
    flags[..., :cells] = rng.random((paints, paints, cells)) < rng.uniform(0.002, 0.05, (paints, 1, 1))
    alone = flags[np.arange(paints), np.arange(paints)]
    flags |= flags.transpose(1, 0, 2) | alone[:, None] | alone[None]
    flags[np.arange(paints), np.arange(paints)] = alone
    return ReachTable(np.packbits(flags, axis=-1, bitorder="little").view(np.uint64), np.zeros((cells, 3)))


def enumerated(table, wanted, conditions=None):
    """Try every set."""
    sets = combinations(range(table.paints), wanted)
    return max(table.count(some) for some in sets if keeps(some, conditions or Conditions()))


def keeps(some, conditions):
    chosen = set(some)
    return (
        (conditions.allowed is None or chosen <= conditions.allowed)
        and conditions.must <= chosen
        and all(group & chosen for group in conditions.one_of)
        and (conditions.budget is None or sum(conditions.price[i] for i in some) <= conditions.budget)
    )


def chance_conditions(rng, wanted):
    """Nine paints of ten, one at least of four, and a budget that some sets pass."""
    return Conditions(
        allowed=frozenset(rng.permutation(10)[:9].tolist()),
        one_of=(frozenset(rng.permutation(10)[:4].tolist()),),
        price=tuple(rng.uniform(5, 15, 10)),
        budget=10.5 * wanted,
    )


def still():
    """Return a clock that stands still."""
    return lambda: 0.0


@pytest.mark.parametrize("wanted", [1, 2, 3, 4, 5, 6])
def test_a_proof_equals_trying_every_set_one_by_one(wanted):
    for seed in range(4):
        table = chance_table(12, 150, seed)
        proof = prove_choice(table, wanted, Conditions(), seconds=60, clock=still())
        assert proof.proved
        assert proof.cells == table.count(proof.paints) == enumerated(table, wanted)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.integers(2, 5))
def test_under_conditions_the_proved_set_is_the_best_of_all(seed, wanted):
    table, rng = chance_table(10, 90, seed), np.random.default_rng(seed)
    conditions = chance_conditions(rng, wanted)
    try:
        proof = prove_choice(table, wanted, conditions, seconds=60, clock=still())
    except BadRequest:
        return
    assert proof.proved
    assert proof.cells == table.count(proof.paints) == enumerated(table, wanted, conditions)
    assert keeps(proof.paints, conditions)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.integers(2, 5), st.floats(0.5, 1.0))
def test_what_is_settled_of_a_family_costs_no_set_that_is_better_than_the_known(seed, wanted, share):
    """The oracle: every set of the family, one by one."""
    table, rng = chance_table(10, 90, seed), np.random.default_rng(seed)
    may, must = rng.permutation(10)[:8], frozenset(rng.permutation(10)[:1].tolist())
    family = Family(np.union1d(may, list(must)), must)
    sets = [some for some in combinations(family.may.tolist(), wanted) if must <= set(some)]
    best = max(table.count(some) for some in sets)
    known = int(share * best) - 1
    found = bound_of(Task(table, wanted, Conditions()), family, known=known, left=lambda: 60.0)
    assert found.cells >= best - 1e-6
    left = set(found.family.may.tolist())
    for some in sets:
        if table.count(some) > known:
            assert found.family.must <= set(some) <= left


def test_what_must_be_in_is_in_the_proved_set():
    table = chance_table(11, 120, 5)
    conditions = Conditions(must=frozenset({3, 8}))
    proof = prove_choice(table, 5, conditions, seconds=60, clock=still())
    assert {3, 8} <= set(proof.paints)
    assert proof.cells == enumerated(table, 5, conditions)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_proof_and_bound_meet_the_integer_solver(seed):
    table = chance_table(13, 160, seed)
    best = solved(table, 5)
    assert prove_choice(table, 5, Conditions(), seconds=60, clock=still()).cells == best
    everything = Family(np.arange(13), frozenset())
    bound = bound_of(Task(table, 5, Conditions()), everything, known=0, left=lambda: 60.0)
    assert best - 1e-6 <= bound.cells < len(table.cells)


def solved(table, wanted):
    """Return what scipy's milp makes of the plain task: a pair needs both paints, a cell one of its pairs."""
    n, cells = table.paints, len(table.cells)
    pairs = [(i, j) for i in range(n) for j in range(i, n)]
    covers = np.array([table.reached(sorted(set(pair))) for pair in pairs])
    covers &= np.array([unpacked(table, i, j) for i, j in pairs])
    size = n + len(pairs) + cells
    rows = []
    for k, pair in enumerate(pairs):
        for paint in set(pair):
            row = np.zeros(size)
            row[n + k], row[paint] = 1, -1
            rows.append(row)
    for cell in range(cells):
        row = np.zeros(size)
        row[n + len(pairs) + cell] = 1
        row[n : n + len(pairs)] = -covers[:, cell].astype(float)
        rows.append(row)
    chosen = np.concatenate([np.ones(n), np.zeros(size - n)])
    answer = milp(
        -np.concatenate([np.zeros(n + len(pairs)), np.ones(cells)]),
        constraints=[LinearConstraint(np.array(rows), -np.inf, 0), LinearConstraint(chosen, wanted, wanted)],
        integrality=chosen,
        bounds=Bounds(0, 1),
    )
    assert answer.status == 0
    return round(-answer.fun)


def unpacked(table, i, j):
    flags = np.unpackbits(table.bits[i, j].view(np.uint8), bitorder="little")
    return flags[: len(table.cells)].astype(bool)


def test_the_bound_holds_under_conditions():
    for seed in range(6):
        table, rng = chance_table(11, 120, seed), np.random.default_rng(seed)
        conditions = Conditions(
            must=frozenset({2}),
            one_of=(frozenset({5, 6}), frozenset({0, 9})),
            price=tuple(rng.uniform(5, 15, 11)),
            budget=45.0,
        )
        family = Family(np.arange(11), conditions.must)
        bound = bound_of(Task(table, 4, conditions), family, known=0, left=lambda: 60.0)
        assert bound.cells >= enumerated(table, 4, conditions) - 1e-6


def test_out_of_time_says_what_is_known_and_never_too_little():
    table = chance_table(12, 150, 7)
    ticks = count()
    proof = prove_choice(table, 5, Conditions(), seconds=6, clock=lambda: float(next(ticks)))
    assert not proof.proved
    assert proof.cells == choose(table, 5)[0].cells
    assert enumerated(table, 5) <= proof.bound <= len(table.cells)


def test_conditions_that_cannot_be_met_are_refused():
    with pytest.raises(BadRequest, match="loosen one"):
        prove_choice(
            chance_table(6, 40, 0), 3, Conditions(price=(9.0,) * 6, budget=20.0), seconds=9, clock=still()
        )
