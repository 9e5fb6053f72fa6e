"""Whether a change can still be taken back, looked up without taking it back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from operator import itemgetter
from typing import Any

from sqlalchemy import Column, Connection, Table, and_, select

from halfpan.collection import rows, tables

Key = tuple[Any, ...]
_SINGLY = 40  # rows looked up one by one; for more of them the whole table is read once


def stands_alone(db: Connection, steps: Sequence[rows.Step]) -> bool:
    """Say whether no later change built on these steps.

    A later change built on them when a column holds something else by now, when a row that was added is gone
    or one that was dropped is there again, or when another row points to one that would have to go.
    """
    own: dict[str, set[Key]] = {}
    for step in steps:
        if "added" in step:
            own.setdefault(step["table"], set()).update(_keys(step["table"], step["added"]))
    back: dict[tuple[str, Key], dict[str, Any]] = {}  # what the later steps, taken back first, would restore
    for step in reversed(steps):
        table = tables.metadata.tables[step["table"]]
        if "added" in step:
            if _goes(table) and not _can_go(db, table, step["added"], own):
                return False
        elif "dropped" in step:
            keys = _keys(table.name, step["dropped"])
            if _there(db, table, [key for key in keys if key not in own.get(table.name, ())]):
                return False
            back |= {(table.name, key): dict(row) for key, row in zip(keys, step["dropped"], strict=True)}
        elif not _unchanged(db, table, step, back):
            return False
    return True


def _keys(table: str, some: Sequence[rows.Values]) -> list[Key]:
    """Return the keys of rows, each in the order of its table's columns."""
    names = [column.name for column in tables.metadata.tables[table].primary_key]
    if len(names) == 1:
        return [(one[names[0]],) for one in some]
    return list(map(itemgetter(*names), some))


def _goes(table: Table) -> bool:
    """Say whether taking back an added row of a table takes the row out, and does not only put it away."""
    kept = {tables.readings, tables.swatches, *tables.KEPT_WITH_THEIR_OWNER}
    return table not in kept and "removed" not in table.c


def _there(db: Connection, table: Table, keys: Sequence[Key]) -> set[Key]:
    """Return which of some keys a table holds."""
    columns = list(table.primary_key)
    wanted = select(*columns)
    if len(keys) > _SINGLY:
        return set(map(tuple, db.execute(wanted).all())) & set(keys)
    held = (and_(*(column == value for column, value in zip(columns, key, strict=True))) for key in keys)
    return {tuple(row) for where in held for row in db.execute(wanted.where(where))}


def _can_go(db: Connection, table: Table, added: Sequence[rows.Values], own: Mapping[str, set[Key]]) -> bool:
    """Say whether added rows are all there, and nothing but rows of the same change points to them."""
    if len(_there(db, table, _keys(table.name, added))) < len(added):
        return False
    return not any(
        tuple(row) not in own.get(other.name, ())
        for other, column, target in _pointers(table)
        for key in added
        for row in db.execute(select(*other.primary_key).where(column == key[target]))
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
    (key,) = _keys(table.name, [step["key"]])
    restored = back.setdefault((table.name, key), {})
    if found is None and not restored:
        return False
    held = rows.plain_row(dict(found or {})) | restored
    restored |= step["before"]
    return all(held[name] == value for name, value in after.items())
