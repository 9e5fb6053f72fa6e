from __future__ import annotations

from datetime import date, datetime

import pytest

from halfpan.collection.stock import Item
from halfpan.errors import BadRequest
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.stock import add_item, list_stock, note_item
from halfpan.studio.studio import Studio
from halfpan.studio.undo import undo

LIST = "name,codes,form,size,price\nRose,PV19,tube,5,£10\nSand,PY43,half pan,2,\n"


@pytest.fixture
def stocked(studio: Studio, now: datetime) -> Studio:
    add_paints(studio, parse_table(LIST), now=now)
    return studio


def test_costs_follow_from_price_and_size(stocked: Studio) -> None:
    rose, sand = list_stock(stocked)
    assert (rose.cost_per_ml, rose.cost_per_half_pan, rose.item.currency) == (2.0, 4.0, "GBP")
    assert sand.cost_per_ml is None


def test_what_is_left_is_unknown_until_somebody_says(stocked: Studio, now: datetime) -> None:
    rose, _ = list_stock(stocked)
    assert rose.left is None
    assert not rose.low
    assert note_item(stocked, rose.item.id, amount_left=0.2, now=now).left == (0.2, 0.2)
    assert [one.paint.name for one in list_stock(stocked, low=True)] == ["Rose"]


def test_a_weighed_tube_gives_a_span(stocked: Studio, now: datetime) -> None:
    rose, _ = list_stock(stocked)
    weighed = note_item(stocked, rose.item.id, weight_g=6.6, empty_g=4.0, now=now)
    assert weighed.left == pytest.approx((2.6 / 2.0 / 5, 2.6 / 1.3 / 5))


def test_what_was_not_used_for_long_is_found(stocked: Studio, now: datetime) -> None:
    rose, sand = list_stock(stocked)
    note_item(stocked, rose.item.id, last_used=date(2024, 1, 1), now=now)
    note_item(stocked, sand.item.id, last_used=date(2026, 1, 1), now=now)
    assert [one.paint.name for one in list_stock(stocked, unused_since=date(2025, 3, 1))] == ["Rose"]


def test_a_second_tube_is_added_and_undone(stocked: Studio, now: datetime) -> None:
    add_item(stocked, "Rose", Item(form="tube", size_ml=15.0), now=now)
    assert len(list_stock(stocked, paint="Rose")) == 2
    undo(stocked, now=now)
    assert len(list_stock(stocked, paint="Rose")) == 1


def test_what_is_gone_leaves_the_drawer(stocked: Studio, now: datetime) -> None:
    rose, _ = list_stock(stocked)
    note_item(stocked, rose.item.id, gone=now, now=now)
    assert [one.paint.name for one in list_stock(stocked)] == ["Sand"]


def test_items_that_are_not_there_and_shares_above_one_are_refused(stocked: Studio, now: datetime) -> None:
    with pytest.raises(BadRequest, match="no item 99"):
        note_item(stocked, 99, hard=True, now=now)
    with pytest.raises(BadRequest, match="0 to 1"):
        note_item(stocked, 1, amount_left=2.0, now=now)
