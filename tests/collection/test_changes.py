from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection, Engine, select

from halfpan.collection import changes, paints, stock
from halfpan.collection.tables import metadata
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest, StudioTrouble

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
SIENNA = Paint(id="", maker="Larkspur Mill", range="Fine", name="Burnt Sienna", codes=("PBr7",))


def test_an_undo_of_an_undo_brings_the_change_back(db: Connection) -> None:
    paints.add_all(db, [SIENNA], now=NOW)
    with changes.noted(db, "renamed", now=NOW):
        paints.edit(db, "p1", name="Burnt Sienna Deep")
    changes.undo(db, now=NOW)
    assert paints.listed(db)[0].name == "Burnt Sienna"
    undo = changes.listed(db)[0]
    changes.undo(db, undo.id, now=NOW)
    assert paints.listed(db)[0].name == "Burnt Sienna Deep"


def test_undo_walks_backwards_one_change_at_a_time(db: Connection) -> None:
    with changes.noted(db, "added", now=NOW):
        paints.add_all(db, [SIENNA], now=NOW)
    for name in ("A", "B"):
        with changes.noted(db, f"renamed {name}", now=NOW):
            paints.edit(db, "p1", name=name)
    undone = [changes.undo(db, now=NOW).what for _ in range(3)]
    assert undone == ["renamed B", "renamed A", "added"]
    with pytest.raises(BadRequest, match="nothing to undo"):
        changes.undo(db, now=NOW)


def test_a_change_that_a_later_one_built_on_is_not_undone(db: Connection) -> None:
    paints.add_all(db, [SIENNA], now=NOW)
    with changes.noted(db, "first", now=NOW):
        paints.edit(db, "p1", name="A")
    first = changes.listed(db)[0].id
    with changes.noted(db, "second", now=NOW):
        paints.edit(db, "p1", name="B")
    with pytest.raises(StudioTrouble, match="later change"):
        changes.undo(db, first, now=NOW)


def test_a_change_that_changed_nothing_leaves_no_trace(db: Connection) -> None:
    paints.add_all(db, [SIENNA], now=NOW)
    with changes.noted(db, "renamed", now=NOW):
        paints.edit(db, "p1", name="Burnt Sienna")
    assert changes.listed(db) == []


def test_dates_and_times_survive_an_undo(db: Connection) -> None:
    paints.add_all(db, [replace(SIENNA, bought=date(2025, 5, 1))], now=NOW)
    (item,) = stock.listed(db)
    with changes.noted(db, "used up", now=NOW):
        stock.edit(db, item.id, gone=NOW, bought=date(2025, 6, 1))
    changes.undo(db, now=NOW)
    assert stock.listed(db) == [item]


EDITS = st.one_of(
    st.tuples(st.just("name"), st.text(min_size=1, max_size=5)),
    st.tuples(st.just("favourite"), st.booleans()),
    st.tuples(st.just("codes"), st.lists(st.sampled_from(["PB29", "PY3", "PR101"]), max_size=3, unique=True)),
    st.tuples(st.just("left"), st.none() | st.floats(0, 1)),
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(edits=st.lists(EDITS, min_size=1, max_size=6))
def test_undoing_everything_returns_every_row_to_where_it_was(
    store: Engine, edits: list[tuple[str, object]]
) -> None:
    with store.connect() as db, db.begin() as whole:
        paints.add_all(db, [SIENNA], now=NOW)
        before = _rows(db)
        for what, value in edits:
            with changes.noted(db, what, now=NOW):
                if what == "codes":
                    paints.set_codes(db, "p1", value)
                elif what == "left":
                    stock.edit(db, 1, amount_left=value)
                else:
                    paints.edit(db, "p1", **{what: value})
        for _ in [one for one in changes.listed(db) if not one.undone]:
            changes.undo(db, now=NOW)
        assert _rows(db) == before
        whole.rollback()


def _rows(db: Connection) -> dict[str, list[tuple[object, ...]]]:
    return {
        name: sorted(map(tuple, db.execute(select(table))), key=repr)
        for name, table in metadata.tables.items()
        if name != "changes"
    }
