"""The hue ring; Munsell's hues as the outside order (renotation chips of one value and chroma)."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.ring import on_ring, ring_gaps
from halfpan.core.colour.notation import munsell_to_lab
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch

HUES = ("5R", "5YR", "5Y", "5GY", "5G", "5BG", "5B", "5PB", "5P", "5RP")


def painted(name, lab):
    lab = tuple(float(v) for v in lab)
    return Painted(Paint(name, "Tidewater", "Ebb", name), Swatch("A1", name, name, lab, lab, lab))


def at(name, hue, chroma=40.0):
    return painted(name, lch_to_lab((60.0, chroma, hue)))


def test_munsell_hues_stand_round_the_ring_in_their_own_order():
    ring = on_ring([painted(hue, munsell_to_lab(f"{hue} 6/6")) for hue in HUES])
    order = [one.paint for one in ring]
    start = order.index("5R")
    assert tuple(order[start:] + order[:start]) == HUES


def test_a_gap_lies_between_its_two_neighbours_also_through_nought():
    ring = on_ring([at("a", 20), at("b", 40), at("c", 120), at("d", 330)])
    gaps = ring_gaps(ring)
    assert [(gap.after, gap.before) for gap in gaps] == [("c", "d"), ("b", "c"), ("d", "a")]
    assert [gap.width for gap in gaps] == pytest.approx([210, 80, 50])


def test_widths_of_all_gaps_add_up_to_the_whole_ring():
    rng = np.random.default_rng(2)
    ring = on_ring([at(str(i), hue) for i, hue in enumerate(rng.uniform(0, 360, 9))])
    assert sum(gap.width for gap in ring_gaps(ring, wide=0.0)) == pytest.approx(360)


def test_a_grey_closes_no_gap():
    ring = on_ring([at("a", 20), at("b", 120), at("grey", 70, chroma=5)])
    assert next(one for one in ring if one.paint == "grey").greyish
    assert ("a", "b") in [(gap.after, gap.before) for gap in ring_gaps(ring)]


def test_a_paint_that_was_not_read_is_not_on_the_ring():
    assert on_ring([Painted(Paint("p1", "Tidewater", "Ebb", "Unread"))]) == ()
    assert ring_gaps(()) == ()
