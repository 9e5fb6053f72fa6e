"""Which changes touched one paint: its own rows, and rows that are about it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Table, Text, and_, cast, or_, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import rows, tables
from halfpan.collection.changes import Change

ABOUT = (
    tables.stock, tables.findings, tables.readings, tables.swatches, tables.boxes, tables.seats,
    tables.mix_parts, tables.exposures,
)  # fmt: skip
"""Tables whose rows are about a paint but are not named by it."""

OWN = ("name", "other_names", "series", "tags", "notes")
"""Columns of a paint whose former value is worth telling."""


@dataclass(frozen=True, slots=True)
class Touch:
    """A change that touched a paint.

    Attributes
    ----------
    change : what was done, when
    before : what stood there before, by column; ``codes`` are its pigments
    added : whether it brought the paint into the studio, so that taking it back puts the paint away
    steps : what it did, to see whether it can be taken back
    """

    change: Change
    before: tuple[tuple[str, str], ...]
    added: bool
    steps: tuple[rows.Step, ...]


def of_paint(db: Connection, paint: str) -> list[Touch]:
    """Return the changes that touched a paint, newest first, but moves in the painter's own order."""
    held = {table.name: _keys(db, table, paint) for table in ABOUT}
    put: dict[tuple[Any, ...], int] = {}  # seats: the change that last put a pan there
    touched: dict[int, RowMapping] = {}
    for row in _candidates(db, paint):
        if any(_touches(step, paint, held) for step in row["steps"]):
            touched[row["id"]] = row
        for seat, holds in _seats(row["steps"]):
            earlier = put.pop(seat, None)
            if holds == paint and earlier is not None:
                touched[earlier] = _by_id(db, earlier)
            if holds is None:
                put[seat] = row["id"]
    for seat in held[tables.seats.name] & put.keys():
        touched[put[seat]] = _by_id(db, put[seat])
    codes = _codes(db, paint)
    return [_touch(touched[number], paint, codes) for number in sorted(touched, reverse=True)]


def _candidates(db: Connection, paint: str) -> Iterator[RowMapping]:
    """Return the changes that may have touched a paint, oldest first; others are not even read."""
    table = tables.changes
    text = cast(table.c.steps, Text)
    named = [f'"{paint}"', *(f'"table": "{about.name}"' for about in ABOUT)]
    where = and_(
        or_(*(text.contains(part, autoescape=True) for part in named)),
        ~text.startswith('[{"table": "orders"', autoescape=True),
    )
    yield from db.execute(select(table).where(where).order_by(table.c.id)).mappings()


def _by_id(db: Connection, number: int) -> RowMapping:
    return db.execute(select(tables.changes).where(tables.changes.c.id == number)).mappings().one()


def _key(key: rows.Values) -> tuple[Any, ...]:
    return tuple(key[name] for name in sorted(key))


def _keys(db: Connection, table: Table, paint: str) -> set[tuple[Any, ...]]:
    found = db.execute(select(*table.primary_key.columns).where(table.c.paint == paint)).mappings()
    return {_key(rows.plain_row(dict(row))) for row in found}


def _touches(step: rows.Step, paint: str, held: dict[str, set[tuple[Any, ...]]]) -> bool:
    table = step["table"]
    own = "id" if table == "paints" else "paint"
    mine = held.get(table, set()) if table != tables.seats.name else set()
    if "added" in step:
        return any(key.get(own) == paint or _key(key) in mine for key in step["added"])
    if "dropped" in step:
        return any(row.get(own) == paint for row in step["dropped"])
    about = (step["key"].get(own), step["before"].get("paint"), step["after"].get("paint"))
    return paint in about or (_key(step["key"]) in mine and table != tables.boxes.name)


def _seats(steps: list[rows.Step]) -> Iterator[tuple[tuple[Any, ...], str | None]]:
    """Return the seats that steps touched, each with the paint that sat there till then; none: none did."""
    for step in steps:
        if step["table"] != tables.seats.name:
            continue
        for key in step.get("added", ()):
            yield _key(key), None
        for row in step.get("dropped", ()):
            yield (row["seat"], row["tin"]), row["paint"]
        if "paint" in step.get("before", {}):
            yield _key(step["key"]), step["before"]["paint"]


def _codes(db: Connection, paint: str) -> dict[int, str]:
    table = tables.paint_pigments
    found = db.execute(select(table.c.position, table.c.code).where(table.c.paint == paint))
    return {row.position: row.code for row in found}


def _touch(row: RowMapping, paint: str, codes: dict[int, str]) -> Touch:
    """Return one change; ``codes`` are those the paint had after it, and had before it on return."""
    change = Change(
        row["id"], row["when"], row["who"], row["what"], row["undone_by"] is not None, row["undoes"]
    )
    added = any({"id": paint} in step.get("added", ()) for step in row["steps"] if step["table"] == "paints")
    before: dict[str, str] = {}
    after = dict(codes)
    for step in reversed(row["steps"]):
        if step["table"] == "paints" and step.get("key") == {"id": paint}:
            before |= {name: _said(step["before"][name]) for name in OWN if name in step["before"]}
        if step["table"] == "paint_pigments":
            _walk_back(step, paint, codes)
    if codes != after and not added:
        before["codes"] = " ".join(codes[position] for position in sorted(codes))
    return Touch(change, tuple(before.items()), added, tuple(row["steps"]))


def _walk_back(step: rows.Step, paint: str, codes: dict[int, str]) -> None:
    for key in step.get("added", ()):
        if key["paint"] == paint:
            codes.pop(key["position"], None)
    for row in step.get("dropped", ()):
        if row["paint"] == paint:
            codes[row["position"]] = row["code"]
    if step.get("key", {}).get("paint") == paint:
        codes[step["key"]["position"]] = step["before"]["code"]


def _said(value: Any) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value or "")
