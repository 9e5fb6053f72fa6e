"""Class lists by code; every choice of tubes tried one by one as oracle for the basket."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from halfpan.core.arranging.baskets import cheapest_basket, read_line, twins
from halfpan.core.paint.index import pigments
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest


def tube(name, codes, price=None, currency="EUR"):
    return Paint(name, "Old Quarry", "Studio", name, tuple(codes), price=price, currency=currency)


def test_a_line_takes_the_forms_of_a_plain_code_and_no_mixed_paint():
    line = read_line("PB15")
    assert line.accepts(tube("a", ["PB15:3"]))
    assert not read_line("PB15:1").accepts(tube("a", ["PB15:3"]))
    assert not line.accepts(tube("b", ["PB15:3", "PW6"]))
    assert read_line("PR101 / PR102").codes == ("PR101", "PR102")
    with pytest.raises(BadRequest, match="not one pigment code"):
        read_line("a nice blue")


def test_twins_are_only_proposed():
    line = read_line("PR101")
    proposed = {twin.code for twin in twins(line, list(pigments()))}
    assert not proposed & set(line.codes)
    assert all(not line.accepts(tube("x", [code])) for code in proposed)


@pytest.mark.parametrize("seed", range(8))
def test_no_other_choice_of_tubes_is_cheaper(seed):
    rng = np.random.default_rng(seed)
    codes = ["PB29", "PR101", "PY150", "PG7", "PV19"]
    tubes = [tube(f"t{i}", [codes[int(rng.integers(5))]], float(rng.integers(3, 15))) for i in range(10)]
    lines = [read_line(text) for text in ("PB29 / PG7", "PR101", "PY150 / PV19", "PG7")]
    basket = cheapest_basket(lines, tubes)
    met = [line for k, line in enumerate(lines) if k not in basket.unmet]
    costs = [
        sum(one.price for one in some)
        for count in range(len(met) + 1)
        for some in combinations(tubes, count)
        if all(any(line.accepts(one) for one in some) for line in met)
    ]
    assert basket.price == pytest.approx(min(costs))


def test_lines_without_a_price_or_a_paint_are_named():
    lines = [read_line("PB29"), read_line("PY3"), read_line("PG7")]
    basket = cheapest_basket(lines, [tube("a", ["PB29"], 4.0), tube("b", ["PY3"])])
    assert (basket.unpriced, basket.unmet, basket.price) == ((1,), (2,), 4.0)


def test_two_currencies_are_not_added_up():
    offered = [tube("a", ["PB29"], 4.0), tube("b", ["PG7"], 3.0, "GBP")]
    lines = [read_line("PB29"), read_line("PG7")]
    with pytest.raises(BadRequest, match="EUR, GBP"):
        cheapest_basket(lines, offered)
    assert cheapest_basket(lines, offered, "GBP").tubes == ((1, "b"),)
