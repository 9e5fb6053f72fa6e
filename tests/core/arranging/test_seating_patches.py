"""Patches of seats that move together, against every way to deal them out."""

from __future__ import annotations

from itertools import permutations, product

import numpy as np
import pytest

from halfpan.core.arranging.neighbours import Nearness, nearness_matrix
from halfpan.core.arranging.seating import seating_cost
from halfpan.core.arranging.seating_patches import patch_sets, reseat
from halfpan.core.paint.tin import tin_of_rows


def steps(n, seed):
    points = np.random.default_rng(seed).normal(size=(n, 3)) * 20
    return np.linalg.norm(points[:, None] - points[None], axis=-1)


def near_of(*rows):
    return nearness_matrix(tin_of_rows("tin", rows), Nearness())


def test_no_two_patches_are_neighbours_and_every_shape_is_found():
    near = near_of("8h", "8h", "8h")
    sets = patch_sets(near, np.random.default_rng(0))
    assert [len(kind[0].places) for kind in sets] == [1, 2, 4]
    for patches in (patches for kind in sets for patches in kind):
        for one, other in permutations(range(patches.places.shape[1]), 2):
            assert not near[np.ix_(patches.places[:, one], patches.places[:, other])].any()


def test_a_square_has_four_sides_and_no_neighbours_across():
    near = near_of("5h", "5h")
    squares = patch_sets(near, np.random.default_rng(1))[2]
    found = {frozenset(place.tolist()) for patches in squares for place in patches.places.T}
    assert found == {frozenset((i, i + 1, i + 5, i + 6)) for i in range(4)}


def test_a_single_row_has_no_squares_and_a_lone_seat_no_pairs():
    assert len(patch_sets(near_of("6h"), np.random.default_rng(0))) == 2
    assert len(patch_sets(near_of("h"), np.random.default_rng(0))) == 1


@pytest.mark.parametrize("kind", [0, 1, 2])
def test_dealing_patches_out_equals_the_best_of_every_deal_and_turn(kind):
    near = near_of("7h", "7h", "4h")
    for seed in range(4):
        difference, seat_cost = steps(len(near), seed), np.random.default_rng(seed).uniform(0, 9, near.shape)
        rng = np.random.default_rng(seed)
        patches = min(patch_sets(near, rng)[kind], key=lambda one: abs(one.places.shape[1] - 3))
        pans = rng.permutation(len(near))
        dealt = pans.copy()
        reseat(difference, seat_cost, dealt, patches)
        assert sorted(dealt) == sorted(pans)
        assert _cost(dealt, difference, near, seat_cost) == pytest.approx(
            _best_deal(pans, difference, near, seat_cost, patches), abs=1e-9
        )


def _cost(pans, difference, near, seat_cost):
    return seating_cost(pans, difference, near) + seat_cost[pans, np.arange(len(pans))].sum()


def _best_deal(pans, difference, near, seat_cost, patches):
    """Try every patch in every place in every turn, one place at a time where they are independent."""
    k = patches.places.shape[1]
    best = np.full((k, k), np.inf)
    for (patch, place), turn in product(product(range(k), range(k)), patches.turns):
        moved = pans.copy()
        moved[patches.places[:, place]] = pans[patches.places[:, patch]][turn]
        cost = _share(moved, patches.places[:, place], difference, near, seat_cost)
        best[patch, place] = min(best[patch, place], cost)
    fixed = np.setdiff1d(np.arange(len(pans)), patches.seats)
    settled = (
        seating_cost(pans[fixed], difference, near[np.ix_(fixed, fixed)])
        + seat_cost[pans[fixed], fixed].sum()
    )
    deals = permutations(range(k))
    return settled + min(sum(best[patch, place] for patch, place in enumerate(deal)) for deal in deals)


def _share(pans, seats, difference, near, seat_cost):
    """Return what one place costs: its own sides, its neighbours around, its seats."""
    sides = near[seats] * difference[np.ix_(pans[seats], pans)]
    inside = sides[:, seats].sum() / 2
    return sides.sum() - inside + seat_cost[pans[seats], seats].sum()
