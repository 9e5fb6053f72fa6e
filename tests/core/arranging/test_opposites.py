"""Visual and mixing opposites are kept apart; painted proof comes first."""

from __future__ import annotations

import numpy as np

from halfpan.core.arranging.opposites import (
    PairMix,
    along_pairs,
    cleanest_greys,
    darkest_darks,
    visual_opposites,
)
from halfpan.core.arranging.painted import Painted
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch


def paint(name, hue, chroma=40):
    lab = tuple(float(v) for v in lch_to_lab((60, chroma, hue)))
    return Painted(Paint(name, "Tidewater", "Ebb", name), Swatch("A1", name, name, lab, lab, lab, 1.0))


def test_visual_opposites_lie_across_the_circle():
    found = visual_opposites([paint("a", 350), paint("b", 172), paint("c", 90), paint("grey", 270, chroma=2)])
    assert [(one.first, one.second) for one in found] == [("a", "b")]
    assert abs(found[0].off - 2) < 1e-6


def test_painted_greys_come_before_foretold_ones_however_grey():
    foretold = along_pairs(
        [("a", "b"), ("a", "c")], [0, 0.5, 1], np.tile([31.0, 1.0, 1.0], (2, 3, 1)), np.ones((2, 3))
    )
    proof = PairMix("b", "a", 0.4, (35.0, 5.0, 2.0), 1.1, painted=True)
    greys = cleanest_greys([*foretold, proof])
    assert greys[0] is proof
    assert [mix.painted for mix in greys] == [True, False]
    assert {greys[1].first, greys[1].second} == {"a", "c"}


def test_the_darkest_dark_may_be_asked_to_be_neutral():
    blue = PairMix("a", "b", 0.5, (8.0, 10.0, -25.0), None, painted=False)
    black = PairMix("a", "c", 0.5, (14.0, 1.0, -2.0), None, painted=False)
    assert darkest_darks([blue, black]) == (black,)
    assert darkest_darks([blue, black], neutral=None) == (blue, black)


def test_a_light_grey_is_no_neutral_worth_naming():
    pale = PairMix("a", "b", 0.5, (90.0, 0.0, 0.0), None, painted=False)
    assert cleanest_greys([pale]) == ()


def test_a_painted_mix_that_is_no_grey_is_not_named_for_being_proof():
    bright = PairMix("a", "b", 0.5, (50.0, 30.0, 0.0), 2.0, painted=True)
    grey = PairMix("c", "d", 0.5, (50.0, 3.0, 0.0), 9.0, painted=False)
    assert cleanest_greys([bright, grey]) == (grey,)


def test_a_thin_wash_is_no_dark_for_being_proof():
    thin = PairMix("a", "b", 0.5, (85.0, 2.0, 0.0), 2.0, painted=True)
    deep = PairMix("c", "d", 0.5, (30.0, 3.0, 0.0), 9.0, painted=False)
    assert darkest_darks([thin, deep]) == (deep,)
