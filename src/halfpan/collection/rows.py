"""The three ways a row changes: added, altered, dropped. Each leaves a step that can be walked back.

Steps are noted on the connection while a change is open (see ``changes.noted``); without one nothing is
noted, which is right for rows that are worked out anew and for the list of changes itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import Column, Connection, Date, Table, and_, delete, insert, select, update
from sqlalchemy.sql.elements import ColumnElement

from halfpan.collection.tables import Moment

LARGEST = 2**63 - 1
STEPS = "halfpan steps"
UNNOTED = "halfpan rows without a step"
Step = dict[str, Any]
Values = Mapping[str, Any]


def _note(db: Connection, step: Step) -> None:
    steps = db.info.get(STEPS)
    if steps is None:
        db.info[UNNOTED] = True
    else:
        steps.append(step)


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="seconds")
    return value.isoformat() if isinstance(value, date) else value


def _typed(column: Column[Any], value: Any) -> Any:
    if isinstance(value, str) and isinstance(column.type, Moment):
        return datetime.fromisoformat(value)
    if isinstance(value, str) and isinstance(column.type, Date):
        return date.fromisoformat(value)
    return value


def plain_row(row: Values) -> dict[str, Any]:
    """Return a row as JSON can hold it."""
    return {name: _plain(value) for name, value in row.items()}


def typed_row(table: Table, row: Values) -> dict[str, Any]:
    """Return a row that JSON held, with its dates and times again."""
    return {name: _typed(table.c[name], value) for name, value in row.items()}


def askable(number: int) -> int:
    """Return a row's number as a store can be asked for it; one too large for any store is that of no row."""
    return max(-LARGEST, min(number, LARGEST))


def at(table: Table, key: Values) -> ColumnElement[bool]:
    """Return the condition that picks the row of that key."""
    return and_(*(table.c[name] == value for name, value in key.items()))


def add(db: Connection, table: Table, values: Sequence[Values]) -> list[dict[str, Any]]:
    """Add rows and return their keys, in the order given."""
    if not values:
        return []
    keys = list(table.primary_key.columns)
    statement = insert(table).returning(*keys, sort_by_parameter_order=True)
    added = [dict(row) for row in db.execute(statement, list(map(dict, values))).mappings()]
    _note(db, {"table": table.name, "added": [plain_row(key) for key in added]})
    return added


def add_one(db: Connection, table: Table, values: Values) -> Any:
    """Add one row and return the value of its key, which must be a single column."""
    (key,) = add(db, table, [values])
    (value,) = key.values()
    return value


def alter(db: Connection, table: Table, key: Values, values: Values) -> None:
    """Change some columns of one row; what stays the same is neither written nor noted."""
    if not values:
        return
    columns = [table.c[name] for name in values]
    before = db.execute(select(*columns).where(at(table, key))).mappings().one()
    changed = {name: value for name, value in values.items() if before[name] != value}
    if not changed:
        return
    db.execute(update(table).where(at(table, key)).values(**changed))
    _note(
        db,
        {
            "table": table.name,
            "key": plain_row(key),
            "before": plain_row({name: before[name] for name in changed}),
            "after": plain_row(changed),
        },
    )


def drop(db: Connection, table: Table, where: ColumnElement[bool]) -> None:
    """Take rows out, keeping them in the step."""
    dropped = [plain_row(dict(row)) for row in db.execute(select(table).where(where)).mappings()]
    if dropped:
        db.execute(delete(table).where(where))
        _note(db, {"table": table.name, "dropped": dropped})
