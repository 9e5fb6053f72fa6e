"""What a recipe will look like: the answer carries its radius and says what is less proven."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invented_paints import ladders, mix, pairs, read

from halfpan.core.colour.screen import lab_to_hex
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.observation import BLACK_LINE, Recipe, wash_of
from halfpan.core.mixing.predict import (
    LESS_PROVEN_GLAZE,
    LESS_PROVEN_MIX,
    NEVER_SO_STRONG,
    from_parts,
    predict,
)
from halfpan.errors import NotLearnt

LEARNT = learn(read(ladders()) + read(pairs()), unit=1.0)
amount = st.floats(0.2, 15)


def test_a_mix_of_one_paint_is_that_paint():
    single, split = predict(LEARNT, [mix(("rose", 4.0)), mix(("rose", 4.0), ("blue", 0.0))])
    assert single.lab == pytest.approx(split.lab, abs=1e-9)
    assert single.within_delta_e00 == pytest.approx(split.within_delta_e00)
    halves = predict(LEARNT, [Recipe((wash_of(("rose", 1.5), ("rose", 2.5)),))])[0]
    assert halves.lab == pytest.approx(single.lab, abs=1e-9)


@settings(max_examples=20)
@given(amount, amount)
def test_either_order_of_parts_gives_the_same_answer(a, b):
    one, other = predict(LEARNT, [mix(("blue", a), ("yellow", b)), mix(("yellow", b), ("blue", a))])
    assert one.lab == pytest.approx(other.lab, abs=1e-9)
    assert one.within_delta_e00 == pytest.approx(other.within_delta_e00, abs=1e-9)


def test_a_prediction_never_claims_more_than_a_painter_can_repeat():
    found = predict(LEARNT, pairs())
    assert min(p.within_delta_e00 for p in found) > LEARNT.prior.mix_doubt


def test_three_paints_and_glazes_say_that_they_are_less_proven():
    three = predict(LEARNT, [mix(("blue", 2.0), ("rose", 2.0), ("yellow", 2.0))])[0]
    glaze = predict(LEARNT, [Recipe(((("blue", 2.0),), (("yellow", 2.0),)))])[0]
    plain = predict(LEARNT, [mix(("blue", 2.0), ("rose", 2.0))])[0]
    assert LESS_PROVEN_MIX in three.flags
    assert LESS_PROVEN_GLAZE in glaze.flags
    assert not plain.flags


def test_amounts_far_from_anything_painted_are_marked():
    strong, usual = predict(LEARNT, [mix(("blue", 40.0), ("rose", 4.0)), mix(("blue", 3.0), ("rose", 3.0))])
    assert NEVER_SO_STRONG in strong.flags
    assert NEVER_SO_STRONG not in usual.flags


def test_the_contrast_ratio_is_that_of_the_same_wash_over_the_black_line():
    wash = mix(("rose", 4.0))
    paper = predict(LEARNT, [wash])[0]
    line = predict(LEARNT, [Recipe(wash.layers, BLACK_LINE)])[0]
    expected = lab_to_xyz(line.lab)[1] / lab_to_xyz(paper.lab)[1]
    assert paper.contrast_ratio == pytest.approx(expected)


def test_a_screen_colour_comes_with_the_answer():
    found = predict(LEARNT, [mix(("rose", 1.0))])[0]
    assert found.screen == lab_to_hex(np.array(found.lab))


def test_a_paint_nothing_was_read_of_is_refused_by_name():
    with pytest.raises(NotLearnt, match="umber"):
        predict(LEARNT, [mix(("umber", 1.0))])


def test_parts_are_shared_out_over_a_wash():
    assert from_parts([("a", 3), ("b", 1)], 8.0) == (("a", 6.0), ("b", 2.0))
    assert from_parts([("a", 2), ("b", 1), ("a", 1)], 8.0) == (("a", 6.0), ("b", 2.0))
