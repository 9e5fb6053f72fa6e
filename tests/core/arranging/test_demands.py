"""Demands on a set, by one witness at a time; silence is not a yes."""

from __future__ import annotations

import pytest

from halfpan.core.arranging.demands import Demands, conditions_of
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.paint import Label, Paint
from halfpan.core.paint.reading import Swatch
from halfpan.errors import BadRequest


def one(name, codes=(), price=None, *, light="", grain="", mass=None):
    label = Label(name, " ".join(codes), lightfastness=light, granulation=grain, scales="words")
    paint = Paint(name, "Tidewater", "Ebb", name, tuple(codes), label, price=price, currency="EUR")
    swatch = None if mass is None else Swatch("A1", name, name, (mass, 0.0, 0.0))
    return Painted(paint, swatch)


PAINTS = [
    one("blue", ["PB29"], 4.0, light="excellent", grain="granulating", mass=30.0),
    one("red", ["PR108"], 9.0, light="excellent", mass=50.0),
    one("pink", ["PR83"], 3.0, light="fugitive", mass=45.0),
    one("moss", ["PY150", "PB29"], 4.0, mass=40.0),
    one("secret", [], None, light="excellent", mass=60.0),
]


def passed(**demands):
    return conditions_of(PAINTS, Demands(**demands), range(len(PAINTS)))


def names(numbers):
    return {PAINTS[i].paint.id for i in numbers}


def test_mixed_paints_are_refused_and_a_paint_without_codes_is_unknown():
    found = passed(single=True)
    assert names(found.conditions.allowed) == {"blue", "red", "pink"}
    assert found.refused == ("moss",)
    assert found.unknown == ("secret",)


def test_lasting_by_the_label_asks_nobody_else():
    found = passed(lasting=True, by="label")
    assert "pink" in found.refused
    assert "moss" in found.unknown
    assert names(found.conditions.allowed) == {"blue", "red", "secret"}


def test_the_literature_speaks_by_code():
    found = passed(lasting=True, by="literature")
    assert "blue" in names(found.conditions.allowed)
    assert "pink" in found.refused
    assert "secret" in found.unknown


def test_without_cadmium_leaves_out_what_holds_it_and_what_nobody_knows():
    found = passed(without=("cadmium",))
    assert found.refused == ("red",)
    assert found.unknown == ("secret",)
    assert passed(without=("PB29",)).refused == ("blue", "moss")


def test_at_least_one_granulating_and_one_dark_become_groups():
    found = passed(granulating=True, dark=True)
    assert [names(group) for group in found.conditions.one_of] == [{"blue"}, {"blue"}]


def test_what_nobody_can_be_is_refused_in_a_sentence():
    with pytest.raises(BadRequest, match="granulating by the proof"):
        passed(granulating=True, by="proof")
    with pytest.raises(BadRequest, match="as dark as L"):
        passed(dark=True, must_not=frozenset({"blue"}))


def test_an_unknown_price_is_not_taken_under_a_budget():
    assert passed(budget=20.0).unknown == ("secret",)


def test_must_overrules_what_would_be_left_out():
    found = passed(single=True, must=frozenset({"moss"}))
    assert "moss" in names(found.conditions.must & found.conditions.allowed)
    assert found.refused == ()
