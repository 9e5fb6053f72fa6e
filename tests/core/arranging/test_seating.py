"""Seating: exhaustive enumeration and scipy's milp as oracles; Munsell hues for a natural order."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import LinearConstraint, milp

from halfpan.core.arranging import seating
from halfpan.core.arranging.neighbours import Nearness, nearness_matrix
from halfpan.core.arranging.seating import SPARE, mean_step, odd_pans, seat_pans, seating_cost
from halfpan.core.arranging.seating_exact import seat_exactly
from halfpan.core.arranging.seating_search import search
from halfpan.core.colour.difference import delta_e_2000_pairs
from halfpan.core.colour.notation import munsell_to_lab
from halfpan.core.paint.tin import tin_of_rows
from halfpan.errors import BadRequest

HUES = [
    f"{step}{family}"
    for family in ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
    for step in (5, 10)
]
CHIPS = np.array(
    [munsell_to_lab(f"{hue} {value}/{chroma}") for hue in HUES for value in (4, 6, 8) for chroma in (4, 6)]
)


def chips(n, seed):
    """Differences of real chips of the Munsell renotation."""
    picked = np.random.default_rng(seed).choice(len(CHIPS), n, replace=False)
    return delta_e_2000_pairs(CHIPS[picked])


def nearness(*rows, turn=0.25):
    return nearness_matrix(tin_of_rows("tin", rows), Nearness(turn=turn))


def enumerated(difference, near):
    ways = np.array(list(permutations(range(len(difference)))))
    upper = np.argwhere(np.triu(near) > 0)
    cost = sum(near[i, j] * difference[ways[:, i], ways[:, j]] for i, j in upper)
    return float(cost.min())


def test_small_tins_equal_exhaustive_search_in_two_hundred_cases():
    tins = [("3h",), ("2h", "2h"), ("4h", "h"), ("3h", "3h"), ("2h", "2h", "2h"), ("3h", "-hh"), ("7h",)]
    for case in range(190):
        rows = tins[case % len(tins)]
        near = nearness(*rows)
        seats = [i for i, seat in enumerate(tin_of_rows("tin", rows).seats) if seat.size]
        near = near[np.ix_(seats, seats)]
        difference = chips(len(near), case)
        seating = seat_pans(difference, near)
        assert seating.proved
        assert seating.cost == pytest.approx(enumerated(difference, near), abs=1e-9)
    for case in range(10):
        difference, near = chips(9, 1000 + case), nearness("3h", "3h", "3h")
        assert seat_pans(difference, near).cost == pytest.approx(enumerated(difference, near), abs=1e-9)


def test_the_search_finds_the_proved_best_of_three_by_four():
    near = nearness("4h", "4h", "4h", turn=0)
    for case in range(3):
        difference = chips(12, case)
        proved = seat_pans(difference, near, prove=True)
        assert proved.proved
        found = min(seat_pans(difference, near, seed=seed).cost for seed in range(3))
        assert found == pytest.approx(proved.cost, abs=1e-9)


def test_milp_agrees_on_a_row_of_five():
    """A row is a shortest path through all paints; scipy's milp solves it with order variables."""
    difference, near = chips(5, 3), nearness("5h")
    assert seat_pans(difference, near).cost == pytest.approx(_milp_row(difference), abs=1e-6)


def _milp_row(difference):
    n = len(difference)
    place = n * n
    pairs = [(p, q, s) for s in range(n - 1) for p in range(n) for q in range(n) if p != q]
    cost = np.concatenate([np.zeros(place), [difference[p, q] for p, q, _ in pairs]])
    rows = []
    for p in range(n):
        rows.append([i // n == p for i in range(place)] + [False] * len(pairs))
        rows.append([i % n == p for i in range(place)] + [False] * len(pairs))
    equal = LinearConstraint(np.array(rows, dtype=float), 1, 1)
    both = np.zeros((len(pairs), len(cost)))
    for k, (p, q, s) in enumerate(pairs):
        both[k, p * n + s] = both[k, q * n + s + 1] = 1
        both[k, place + k] = -1
    answer = milp(
        cost, constraints=[equal, LinearConstraint(both, -np.inf, 1)], integrality=np.ones(len(cost))
    )
    return float(answer.fun)


def test_munsell_hues_seat_themselves_in_hue_order():
    """Hues of one value and chroma form a circle (ASTM D1535): the best row walks round it."""
    hues = [f"5{family}" for family in ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P")]
    lab = np.array([munsell_to_lab(f"{hue} 6/6") for hue in hues])
    shuffled = np.random.default_rng(4).permutation(len(hues))
    seating = seat_pans(delta_e_2000_pairs(lab[shuffled]), nearness("9h"))
    steps = np.diff(shuffled[seating.pans]) % len(hues)
    assert set(steps) <= {1, len(hues) - 1}


@settings(max_examples=25, deadline=None)
@given(st.integers(10, 30), st.integers(0, 10_000), st.data())
def test_a_seating_is_a_permutation_locks_hold_and_spares_stay(paints, seed, data):
    near = nearness("8h", "8h", "8h", "8h")
    locked_seat, spare_seat = data.draw(st.lists(st.integers(0, 31), min_size=2, max_size=2, unique=True))
    locked = {locked_seat: data.draw(st.integers(0, paints - 1)), spare_seat: SPARE}
    seating = seat_pans(chips(paints, seed), near, locked=locked, seed=seed, rounds=200)
    held = seating.pans[seating.pans != SPARE]
    assert sorted(held) == list(range(paints))
    assert all(seating.pans[seat] == pan for seat, pan in locked.items())


def test_the_same_input_and_seed_give_the_same_seating():
    difference, near = chips(40, 5), nearness("8h", "8h", "8h", "8h", "8h")
    first, second = (seat_pans(difference, near, seed=7, rounds=300) for _ in range(2))
    np.testing.assert_array_equal(first.pans, second.pans)


def test_the_bound_is_never_above_the_cost():
    difference = chips(30, 6)
    seating = seat_pans(difference, nearness("6h", "6h", "6h", "6h", "6h"), rounds=300)
    assert 0 < seating.bound <= seating.cost
    assert seating.gap == pytest.approx((seating.cost - seating.bound) / seating.bound)


def test_neighbours_are_far_nearer_than_by_chance():
    difference, near = chips(60, 8), nearness(*["10h"] * 6)
    seating = seat_pans(difference, near, rounds=1500)
    rng = np.random.default_rng(0)
    chance = np.mean([mean_step(rng.permutation(60), difference, near) for _ in range(30)])
    assert mean_step(seating.pans, difference, near) < 0.5 * chance


def test_a_forbidden_seat_is_left_alone():
    cost = np.zeros((6, 8))
    cost[0, :7] = np.inf
    seating = seat_pans(chips(6, 9), nearness("8h"), seat_cost=cost)
    assert seating.pans[7] == 0


def test_too_many_paints_are_refused_in_a_sentence():
    with pytest.raises(BadRequest, match="5 paints are to sit in 4 seats"):
        seat_pans(chips(5, 1), nearness("4h"))
    with pytest.raises(BadRequest, match="locked twice"):
        seat_pans(chips(3, 1), nearness("4h"), locked={0: 1, 1: 1})


def test_a_misplaced_pan_is_named_with_the_swap_that_helps():
    ramp = np.abs(np.arange(10.0)[:, None] - np.arange(10.0)[None, :])
    pans = np.array([0, 1, 7, 3, 4, 5, 6, 2, 8, 9])
    odd = odd_pans(pans, ramp, nearness("10h"))
    assert {odd[0].seat, odd[0].swap_with} == {2, 7}
    swapped = pans.copy()
    swapped[[2, 7]] = swapped[[7, 2]]
    near = nearness("10h")
    assert seating_cost(pans, ramp, near) - seating_cost(swapped, ramp, near) == pytest.approx(odd[0].gain)
    assert odd_pans(swapped, ramp, near) == []


def test_an_exact_seating_of_a_tangled_tin_is_declined():
    everyone = np.ones((12, 12)) - np.eye(12)
    assert seat_exactly(chips(12, 2), everyone, np.zeros((12, 12))) is None


def test_no_swap_betters_what_the_search_returns():
    difference, near = chips(25, 11), nearness(*["5h"] * 5)
    pans = search(difference, near, np.zeros((25, 25)), paints=25, rng=np.random.default_rng(0), rounds=300)
    cost = seating_cost(pans, difference, near)
    for i in range(25):
        for j in range(i):
            swapped = pans.copy()
            swapped[[i, j]] = swapped[[j, i]]
            assert seating_cost(swapped, difference, near) > cost - 1e-9


def test_a_pan_may_move_to_a_free_seat():
    values = [0.0, 1.0, 30.0, 2.0, 3.0, 4.0]
    step = np.abs(np.subtract.outer(values, values))
    near = np.diag(np.ones(8), 1) + np.diag(np.ones(8), -1)
    odd = odd_pans([0, 1, 2, 3, 4, 5, SPARE, SPARE, SPARE], step, near)
    assert (odd[0].seat, odd[0].swap_with) == (2, 7)
    assert odd[0].gain == pytest.approx(29 + 28)


def test_a_locked_pan_is_not_called_odd():
    step = np.abs(np.subtract.outer([0.0, 1.0, 30.0, 2.0], [0.0, 1.0, 30.0, 2.0]))
    near = np.diag(np.ones(3), 1) + np.diag(np.ones(3), -1)
    assert 2 not in [one.seat for one in odd_pans([0, 1, 2, 3], step, near, locked=[2])]


def test_a_seating_that_is_good_already_is_never_made_worse():
    rng = np.random.default_rng(4)
    points = rng.normal(size=(18, 3)) * 20
    step = np.linalg.norm(points[:, None] - points[None], axis=-1)
    near = nearness_matrix(tin_of_rows("t", ["5h"] * 4), Nearness())
    best = min((seat_pans(step, near, seed=seed) for seed in range(6)), key=lambda one: one.cost)
    again = seat_pans(step, near, seed=9, rounds=5, start=best.pans)
    assert again.cost <= best.cost + 1e-9


def test_the_bound_stays_below_the_proved_best_with_locks_and_free_seats():
    near = nearness_matrix(tin_of_rows("t", ["4h", "4h"]), Nearness())
    for seed in range(20):
        points = np.random.default_rng(seed).normal(size=(6, 3)) * 20
        step = np.linalg.norm(points[:, None] - points[None], axis=-1)
        locked = {0: 3, 7: SPARE}
        proved = seat_pans(step, near, locked=locked)
        assert proved.proved
        problem = seating._problem(step, near, None, locked)
        assert seating._bound(problem) <= proved.cost + 1e-9
