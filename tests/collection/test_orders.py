from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import Connection

from halfpan.collection import changes, orders, paints
from halfpan.core.paint.paint import Paint

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


def test_the_own_order_is_kept_and_undone_whole(db: Connection) -> None:
    paints.add_all(db, [Paint(id="", maker="", range="", name=name) for name in "ABC"], now=NOW)
    orders.keep(db, ["p2", "p1"])
    with changes.noted(db, "moved", now=NOW):
        orders.keep(db, ["p3", "p2", "p1"])
    assert orders.find(db) == ["p3", "p2", "p1"]
    changes.undo(db, now=NOW)
    assert orders.find(db) == ["p2", "p1"]
    assert orders.find(db, "another") == []
