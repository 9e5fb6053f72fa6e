"""What a later change built on is not taken back, and is known not to be before anybody tries."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import Connection, select

from halfpan.collection import changes, paints, papers, tables, tins
from halfpan.collection.papers import Paper
from halfpan.collection.standing import stands_alone
from halfpan.collection.tins import Held, KeptTin
from halfpan.core.paint.paint import Paint
from halfpan.errors import StudioTrouble

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


@pytest.fixture
def tin(db: Connection) -> int:
    """Keep three paints and a tin of three seats, noted as two changes."""
    with changes.noted(db, "added", now=NOW):
        paints.add_all(db, [Paint("", "Tidewater", "", name) for name in ("Rose", "Sand", "Slate")], now=NOW)
    with changes.noted(db, "new tin", now=NOW):
        return tins.add(db, KeptTin("Harbour", ("3h",)))


def seat(db: Connection, tin: int, what: str, **held: str) -> int:
    with changes.noted(db, what, now=NOW):
        tins.seat(db, tin, {name: Held(paint) for name, paint in held.items()})
    return changes.listed(db)[0].id


def standing(db: Connection, change: int) -> bool:
    return stands_alone(
        db, db.execute(select(tables.changes.c.steps).where(tables.changes.c.id == change)).scalar_one()
    )


def test_a_tin_that_holds_pans_by_now_is_not_taken_back_from_under_them(db: Connection, tin: int) -> None:
    made = changes.listed(db)[0].id
    assert standing(db, made)
    put = seat(db, tin, "put", A1="p1")
    assert not standing(db, made)
    with pytest.raises(StudioTrouble, match="a later change built on it"):
        changes.undo(db, made, now=NOW)
    changes.undo(db, put, now=NOW)
    changes.undo(db, made, now=NOW)
    assert tins.listed(db) == []


def test_a_pan_is_not_put_back_into_a_seat_that_was_filled_since(db: Connection, tin: int) -> None:
    seat(db, tin, "put", A1="p1")
    out = seat(db, tin, "took out")
    seat(db, tin, "put another", A1="p2")
    assert not standing(db, out)
    with pytest.raises(StudioTrouble):
        changes.undo(db, out, now=NOW)
    assert tins.find(db, tin).held["A1"].paint == "p2"


def test_a_pan_that_was_taken_out_since_cannot_be_taken_out_again(db: Connection, tin: int) -> None:
    put = seat(db, tin, "put", A1="p1")
    seat(db, tin, "took out")
    before = changes.listed(db)
    with pytest.raises(StudioTrouble):
        changes.undo(db, put, now=NOW)
    assert changes.listed(db) == before


def test_a_paper_that_a_chart_stands_on_stays(db: Connection, tin: int) -> None:
    with changes.noted(db, "paper", now=NOW):
        papers.add(db, Paper("Rag"))
    kept = changes.listed(db)[0].id
    assert standing(db, kept)
    row = {"id": "C1", "kind": "swatch", "geometry": {}, "paper": papers.find(db, "Rag").id, "made": NOW}
    db.execute(tables.charts.insert().values(row))
    assert not standing(db, kept)


def test_a_change_that_altered_a_row_twice_stands_as_long_as_its_last_word_does(
    db: Connection, tin: int
) -> None:
    with changes.noted(db, "twice", now=NOW):
        paints.edit(db, "p1", notes="one")
        paints.edit(db, "p1", notes="two")
    twice = changes.listed(db)[0].id
    assert standing(db, twice)
    changes.undo(db, twice, now=NOW)
    assert paints.listed(db)[0].notes == ""


def test_hundreds_of_rows_are_judged_like_a_few(db: Connection, tin: int) -> None:
    many = [Paint("", "Tidewater", "", f"No. {k}", (f"PY{k + 1}",)) for k in range(60)]
    with changes.noted(db, "many", now=NOW):
        ids = paints.add_all(db, many, now=NOW)
    added = changes.listed(db)[0].id
    assert standing(db, added)
    with changes.noted(db, "corrected", now=NOW):
        paints.set_codes(db, ids[7], ())
    assert not standing(db, added)


def test_pigments_corrected_twice_are_taken_back_in_turn(db: Connection, tin: int) -> None:
    for codes in (("PB29",), ("PB29", "PV19"), ("PB28", "PV19", "PW6"), ("PB28",)):
        with changes.noted(db, " ".join(codes), now=NOW):
            paints.set_codes(db, "p1", codes)
    *_, third, last = sorted(one.id for one in changes.listed(db) if one.what.startswith("PB"))
    assert [standing(db, one) for one in (third, last)] == [False, True]
    with pytest.raises(StudioTrouble):
        changes.undo(db, third, now=NOW)
    changes.undo(db, last, now=NOW)
    changes.undo(db, third, now=NOW)
    assert paints.listed(db)[0].codes == ("PB29", "PV19")
