"""Choosing: exhaustive enumeration and the proved best as oracles."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfpan.core.arranging.choosing import Conditions, choose
from halfpan.core.arranging.choosing_proof import prove_choice
from halfpan.core.arranging.reach import examples, reach_table
from halfpan.errors import BadRequest


def films(paints, seed):
    """Absorbing paints of one or two soft bands: log absorption on 31 bands."""
    rng = np.random.default_rng(seed)
    bands = np.linspace(400, 700, 31)
    centre, width = rng.uniform(400, 700, (paints, 2, 1)), rng.uniform(30, 90, (paints, 2, 1))
    height = rng.uniform(0, 3, (paints, 2, 1))
    return (height * np.exp(-(((bands - centre) / width) ** 2))).sum(axis=1)


def table_of(paints, seed):
    from halfpan.core.colour.spectra import reflectance_to_lab

    absorbing = films(paints, seed)
    pairs = np.array([(i, j) for i in range(paints) for j in range(i, paints)])
    share = np.array([0, 0.2, 0.5, 0.8, 1])[None, :, None, None]
    strength = np.array([1, 0.5, 0.2])[None, None, :, None]
    first, second = absorbing[pairs[:, 0]][:, None, None], absorbing[pairs[:, 1]][:, None, None]
    lab = reflectance_to_lab(0.9 * np.exp(-strength * (first * (1 - share) + second * share)))
    return reach_table(pairs, lab, paints)


def test_a_paint_more_never_takes_reach_away():
    table = table_of(12, 1)
    rng = np.random.default_rng(0)
    for _ in range(50):
        paints = list(rng.permutation(12)[: rng.integers(2, 11)])
        with_it = table.reached(paints)
        assert np.all(with_it | ~table.reached(paints[:-1]))


def test_small_choices_equal_enumeration():
    table = table_of(11, 2)
    best = max(combinations(range(11), 4), key=table.count)
    assert choose(table, 4)[0].cells == table.count(best)


@pytest.mark.parametrize("seed", [3, 4, 5])
def test_a_choice_is_within_half_a_percent_of_the_proved_best(seed):
    """The proof itself is checked against scipy's milp and enumeration beside `choosing_proof`."""
    table = table_of(24, seed)
    proof = prove_choice(table, 6, Conditions(), seconds=60, clock=lambda: 0.0)
    assert proof.proved
    assert choose(table, 6)[0].cells >= 0.995 * proof.bound


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 1000), st.integers(3, 6))
def test_conditions_hold(seed, count):
    table = table_of(14, 7)
    rng = np.random.default_rng(seed)
    price = rng.uniform(5, 15, 14)
    price[rng.integers(14)] = np.nan
    conditions = Conditions(
        allowed=frozenset(rng.permutation(14)[:11].tolist()),
        must=frozenset(),
        one_of=(frozenset(rng.permutation(14)[:5].tolist()), frozenset(rng.permutation(14)[:5].tolist())),
        price=tuple(price),
        budget=11.0 * count,
    )
    try:
        answers = choose(table, count, conditions)
    except BadRequest:
        return
    for answer in answers:
        chosen = set(answer.paints)
        assert len(chosen) == count
        assert chosen <= conditions.allowed
        assert all(group & chosen for group in conditions.one_of)
        assert np.nansum(price[list(chosen)]) <= conditions.budget + 1e-9
        assert not np.isnan(price[list(chosen)]).any()


def test_other_good_sets_are_really_different():
    answers = choose(table_of(20, 8), 6)
    assert len(answers) == 3
    for first, second in combinations(answers, 2):
        assert len(set(first.paints) - set(second.paints)) >= 2
    assert answers[0].cells == max(answer.cells for answer in answers)


def test_what_to_add_and_drop_next_is_counted_truly():
    table = table_of(15, 9)
    answer = choose(table, 5)[0]
    paint, gain = answer.add_next
    assert table.count([*answer.paints, paint]) - answer.cells == gain
    paint, loss = answer.drop_next
    assert answer.cells - table.count([p for p in answer.paints if p != paint]) == loss


def test_what_cannot_be_met_is_refused_in_a_sentence():
    table = table_of(6, 10)
    with pytest.raises(BadRequest, match="Only 2 paints meet"):
        choose(table, 3, Conditions(allowed=frozenset({0, 1})))
    with pytest.raises(BadRequest, match="loosen one"):
        choose(table, 3, Conditions(price=(9.0,) * 6, budget=20.0))
    with pytest.raises(BadRequest, match="must be in"):
        choose(table, 1, Conditions(must=frozenset({0, 1})))


def test_example_colours_lie_far_apart():
    rng = np.random.default_rng(0)
    cells = np.column_stack([rng.uniform(0, 100, 300), rng.uniform(-60, 60, (300, 2))])
    picked = cells[examples(cells, 5)]
    assert len(picked) == 5
    assert min(np.linalg.norm(a - b) for a, b in combinations(picked, 2)) > 25
    assert len(examples(np.zeros((0, 3)))) == 0
