"""Wishes of a tin reach the seating as costs."""

from __future__ import annotations

import numpy as np

from halfpan.core.arranging.neighbours import nearness_matrix
from halfpan.core.arranging.seating import seat_pans
from halfpan.core.arranging.wishes import SeatWishes, kept_apart, seat_costs
from halfpan.core.paint.tin import tin_of_rows


def test_strong_paints_go_into_half_pans_and_the_most_used_into_full_ones():
    tin = tin_of_rows("mixed", ["ffhh"])
    wishes = SeatWishes(strong=frozenset({"phthalo"}), most_used=frozenset({"ultramarine"}))
    paints = ["phthalo", "ultramarine", "ochre", "umber"]
    steps = np.full((4, 4), 5.0)
    np.fill_diagonal(steps, 0)
    seating = seat_pans(steps, nearness_matrix(tin), seat_cost=seat_costs(paints, tin.seats, wishes))
    sizes = {paints[pan]: tin.seats[seat].size for seat, pan in enumerate(seating.pans)}
    assert sizes["phthalo"] == "half"
    assert sizes["ultramarine"] == "full"


def test_a_tin_of_one_size_has_no_such_cost():
    tin = tin_of_rows("plain", ["3h"])
    assert not seat_costs(["a"], tin.seats, SeatWishes(strong=frozenset({"a"}))).any()


def test_yellow_is_kept_from_green_when_asked():
    ramp = np.abs(np.arange(4.0)[:, None] - np.arange(4.0)) * 5
    families = ["yellow", "green", "orange", "red"]
    near = nearness_matrix(tin_of_rows("row", ["4h"]))
    loose = seat_pans(ramp, near).pans.tolist()
    assert abs(loose.index(0) - loose.index(1)) == 1
    kept = kept_apart(ramp, families, SeatWishes(clean_yellows=True))
    apart = seat_pans(kept, near).pans.tolist()
    assert abs(apart.index(0) - apart.index(1)) > 1
    np.testing.assert_allclose(kept, kept.T)
