"""Sides are the painter's own rule; no source fixes warm and cool (common practice disagrees)."""

from __future__ import annotations

import pytest

from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.sides import SideRule, propose_sides
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch


def paint(name, hue, chroma=40):
    lab = tuple(float(v) for v in lch_to_lab((60, chroma, hue)))
    return Painted(Paint(name, "Tidewater", "Ebb", name), Swatch("A1", name, name, lab, lab, lab, 1.0))


@pytest.mark.parametrize(
    ("hue", "side"), [(355, "warm"), (40, "warm"), (95, "warm"), (180, "cool"), (345, "cool")]
)
def test_the_first_side_runs_from_start_to_end_through_nought(hue, side):
    (one,) = propose_sides([paint("x", hue)])
    assert (one.side, one.basis) == (side, "hue at mid strength")


def test_the_boundary_is_shown_and_can_be_moved():
    (one,) = propose_sides([paint("x", 95)])
    assert one.from_boundary == pytest.approx(5, abs=1e-6)
    (moved,) = propose_sides([paint("x", 95)], SideRule(end=90))
    assert moved.side == "cool"


def test_a_grey_is_placed_by_its_lean_and_a_neutral_one_is_undecided():
    lean, none = propose_sides([paint("lean", 60, chroma=5), paint("none", 60, chroma=0.5)])
    assert (lean.side, lean.basis) == ("warm", "the way it leans")
    assert none.side is None


def test_the_painters_tag_always_holds():
    (one,) = propose_sides([paint("x", 180)], tags={"x": "warm"})
    assert (one.side, one.basis) == ("warm", "your own tag")


def test_without_a_reading_nothing_is_claimed():
    (one,) = propose_sides([Painted(Paint("x", "Tidewater", "Ebb", "x"))])
    assert (one.side, one.basis) == (None, "no reading")
