"""Every change has a sentence, a time and its steps, so that any of them can be taken back.

An undone change is itself a change, and can be undone again. Paints, charts and readings that were added
are not deleted by an undo: paints and charts are put away, readings are set aside, numbers stay given.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Table, func, insert, select, update

from halfpan.collection import rows, tables
from halfpan.collection.standing import stands_alone
from halfpan.errors import BadRequest, StudioTrouble


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that was done: when, by whom, in words; ``undone`` when it was taken back."""

    id: int
    when: datetime
    who: str
    what: str
    undone: bool
    undoes: int | None = None


@contextmanager
def noted(db: Connection, what: str, *, now: datetime, who: str = "") -> Iterator[None]:
    """Note all rows changed inside as one change; one that changed nothing leaves no trace."""
    if rows.STEPS in db.info:  # a use case within a use case: the outer sentence stands
        yield
        return
    steps: list[rows.Step] = []
    db.info[rows.STEPS] = steps
    try:
        yield
    finally:
        del db.info[rows.STEPS]
    if steps:
        db.execute(insert(tables.changes).values(when=now, who=who, what=what, steps=steps))


def listed(db: Connection, *, limit: int = 50) -> list[Change]:
    """Return the latest changes, newest first."""
    own = tables.changes.c  # without their steps, which may be thousands
    query = select(own.id, own.when, own.who, own.what, own.undone_by, own.undoes)
    return [
        Change(number, when, who, what, undone_by is not None, undoes)
        for number, when, who, what, undone_by, undoes in db.execute(
            query.order_by(own.id.desc()).limit(limit)
        )
    ]


def undo(db: Connection, change: int | None = None, *, now: datetime, who: str = "") -> Change:
    """Take back one change (by default the latest that still stands) and return it.

    Raises
    ------
    BadRequest
        When there is nothing to undo.
    StudioTrouble
        When a later change built on it; nothing is changed then.
    """
    row = _standing(db, change)
    if not stands_alone(db, row["steps"]):
        raise StudioTrouble(
            f"“{row['what']}” cannot be undone: a later change built on it. Undo the later one first."
        )
    newest = _newest(db)
    with noted(db, f"undone: {row['what']}", now=now, who=who):
        for step in reversed(row["steps"]):
            _take_back(db, step, now)
    if _newest(db) == newest:
        raise StudioTrouble(f"“{row['what']}” cannot be undone: nothing of it is left to take back.")
    _tie(db, row)
    return Change(row["id"], row["when"], row["who"], row["what"], undone=True, undoes=row["undoes"])


def _standing(db: Connection, change: int | None) -> Mapping[str, Any]:
    table = tables.changes
    wanted = select(table).where(table.c.undone_by.is_(None))
    if change is None:
        wanted = wanted.where(table.c.undoes.is_(None)).order_by(table.c.id.desc()).limit(1)
    else:
        wanted = wanted.where(table.c.id == rows.askable(change))
    row = db.execute(wanted).mappings().first()
    if row is None:
        raise BadRequest(
            "There is nothing to undo."
            if change is None
            else f"Change {change} does not exist or is undone already; `halfpan paints changes` lists them."
        )
    return dict(row)


def _newest(db: Connection) -> int:
    return db.execute(select(func.max(tables.changes.c.id))).scalar_one_or_none() or 0


def _tie(db: Connection, undone: Mapping[str, Any]) -> None:
    """Link the change just noted with the one it took back."""
    table = tables.changes
    newest = _newest(db)
    db.execute(update(table).where(table.c.id == newest).values(undoes=undone["id"]))
    db.execute(update(table).where(table.c.id == undone["id"]).values(undone_by=newest))
    if undone["undoes"] is not None:
        db.execute(update(table).where(table.c.id == undone["undoes"]).values(undone_by=None))


def _take_back(db: Connection, step: rows.Step, now: datetime) -> None:
    table = tables.metadata.tables[step["table"]]
    if "added" in step:
        for key in step["added"]:
            _put_away(db, table, rows.typed_row(table, key), now)
    elif "dropped" in step:
        rows.add(db, table, [rows.typed_row(table, row) for row in step["dropped"]])
    else:
        rows.alter(db, table, rows.typed_row(table, step["key"]), rows.typed_row(table, step["before"]))


def _put_away(db: Connection, table: Table, key: rows.Values, now: datetime) -> None:
    """Take an added row out of sight: deleted where nothing else may point to it, put away where it may."""
    if table in {tables.readings, tables.swatches}:
        aside = {"state": "set aside"}
        rows.alter(db, table, key, aside | ({"reason": "undone"} if table is tables.readings else {}))
    elif "removed" in table.c:
        rows.alter(db, table, key, {"removed": now})
    elif table not in tables.KEPT_WITH_THEIR_OWNER:
        rows.drop(db, table, rows.at(table, key))
