from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from sqlalchemy import Connection

from halfpan.collection import changes, paints, stock
from halfpan.core.paint.paint import Label, Paint

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
HARBOUR = Paint(
    id="",
    maker="Tidewater",
    range="Estuary",
    name="Harbour Blue",
    codes=("PB29", "PBk9"),
    label=Label(name="Harbour Blue", codes="PB 29, PBK9", lightfastness="I"),
    form="half pan",
    size_ml=1.5,
    tags=("sky",),
)
ROSE = Paint(id="", maker="Old Quarry", range="Studio", name="Rose Lake", codes=("PV19",))


def test_a_paint_comes_back_as_it_was_kept(db: Connection) -> None:
    ids = paints.add_all(db, [HARBOUR, ROSE], now=NOW)
    assert ids == ["p1", "p2"]
    assert paints.listed(db) == [replace(HARBOUR, id="p1"), replace(ROSE, id="p2")]


def test_the_printed_label_survives_every_correction(db: Connection) -> None:
    paints.add_all(db, [HARBOUR], now=NOW)
    paints.edit(db, "p1", name="Harbour Blue (old)")
    paints.set_codes(db, "p1", ["PB29"])
    (held,) = paints.of_ids(db, ["p1"])
    assert held.label == HARBOUR.label
    assert held.codes == ("PB29",)
    with pytest.raises(ValueError, match="not a column"):
        paints.edit(db, "p1", label_codes="PB28")


def test_a_number_is_never_given_twice(db: Connection) -> None:
    with changes.noted(db, "added", now=NOW):
        paints.add_all(db, [HARBOUR], now=NOW)
    changes.undo(db, now=NOW)
    assert paints.listed(db) == []
    assert paints.add_all(db, [ROSE], now=NOW) == ["p2"]


def test_paints_are_found_by_a_whole_code_only(db: Connection) -> None:
    paints.add_all(db, [replace(HARBOUR, codes=("PY110",)), replace(ROSE, codes=("PY1",))], now=NOW)
    assert [one.name for one in paints.containing(db, "PY1")] == ["Rose Lake"]


def test_the_paint_shows_the_oldest_tube_that_is_still_there(db: Connection) -> None:
    paints.add_all(db, [HARBOUR], now=NOW)
    newer = stock.add(db, "p1", stock.Item(form="tube", size_ml=15.0))
    assert paints.of_ids(db, ["p1"])[0].form == "half pan"
    first = stock.listed(db, "p1")[0]
    stock.edit(db, first.id, gone=NOW)
    assert paints.of_ids(db, ["p1"])[0].form == "tube"
    assert [item.id for item in stock.listed(db, "p1")] == [newer]
