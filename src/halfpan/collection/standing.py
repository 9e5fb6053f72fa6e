"""Whether a change can still be taken back, looked up without taking it back."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Any

from sqlalchemy import Column, Connection, Table, select

from halfpan.collection import rows, tables

Key = tuple[Any, ...]
_SINGLY = 40  # rows looked up one by one; for more of them the whole table is read once


def stands_alone(db: Connection, steps: Sequence[rows.Step]) -> bool:
    """Say whether no later change built on these steps.

    A later change built on them when a column holds something else by now, when a row that was added is gone
    or one that was dropped is there again, or when another row points to one that would have to go.
    """
    own = {(step["table"], _key(key)) for step in steps for key in step.get("added", ())}
    back: dict[tuple[str, Key], dict[str, Any]] = {}  # what the later steps, taken back first, would restore
    for step in reversed(steps):
        table = tables.metadata.tables[step["table"]]
        if "added" in step:
            if _goes(table) and not _can_go(db, table, step["added"], own):
                return False
        elif "dropped" in step:
            keys = [_key_of(table, row) for row in step["dropped"]]
            new = [key for key in keys if (table.name, _key(key)) not in own]
            if _there(db, table, new):
                return False
            back |= {
                (table.name, _key(key)): dict(row) for key, row in zip(keys, step["dropped"], strict=True)
            }
        elif not _unchanged(db, table, step, back):
            return False
    return True


def _key(key: rows.Values) -> Key:
    return tuple(key[name] for name in sorted(key))


def _key_of(table: Table, row: rows.Values) -> dict[str, Any]:
    return {column.name: row[column.name] for column in table.primary_key}


def _goes(table: Table) -> bool:
    """Say whether taking back an added row of a table takes the row out, and does not only put it away."""
    kept = {tables.readings, tables.swatches, *tables.KEPT_WITH_THEIR_OWNER}
    return table not in kept and "removed" not in table.c


def _there(db: Connection, table: Table, keys: Sequence[rows.Values]) -> set[Key]:
    """Return which of some keys a table holds."""
    wanted = select(*table.primary_key.columns)
    if len(keys) <= _SINGLY:
        found = [db.execute(wanted.where(rows.at(table, rows.typed_row(table, key)))) for key in keys]
        return {_key(rows.plain_row(dict(row))) for answer in found for row in answer.mappings()}
    every = {_key(rows.plain_row(dict(row))) for row in db.execute(wanted).mappings()}
    return every & {_key(key) for key in keys}


def _can_go(
    db: Connection, table: Table, keys: Sequence[rows.Values], own: Collection[tuple[str, Key]]
) -> bool:
    """Say whether added rows are all there, and nothing but rows of the same change points to them."""
    if len(_there(db, table, keys)) < len(keys):
        return False
    return not any(
        (other.name, _key(rows.plain_row(dict(row)))) not in own
        for other, column, target in _pointers(table)
        for key in keys
        for row in db.execute(select(*other.primary_key.columns).where(column == key[target])).mappings()
    )


def _pointers(table: Table) -> Iterator[tuple[Table, Column[Any], str]]:
    for other in tables.metadata.tables.values():
        for foreign in other.foreign_keys:
            if foreign.column.table is table and other is not tables.changes:
                yield other, foreign.parent, foreign.column.name


def _unchanged(
    db: Connection, table: Table, step: rows.Step, back: dict[tuple[str, Key], dict[str, Any]]
) -> bool:
    """Say whether the columns that a step altered still hold what it wrote."""
    after = step["after"]
    where = rows.at(table, rows.typed_row(table, step["key"]))
    found = db.execute(select(*(table.c[name] for name in after)).where(where)).mappings().first()
    restored = back.setdefault((table.name, _key(step["key"])), {})
    if found is None and not restored:
        return False
    held = rows.plain_row(dict(found or {})) | restored
    restored |= step["before"]
    return all(held[name] == value for name, value in after.items())
