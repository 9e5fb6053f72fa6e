"""Why paints are wished for. A wish is a paint that is not owned; its reason stands here."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.tables import wishes as wishes_table


def listed(db: Connection) -> dict[str, str]:
    """Return the reason of each wish, by the paint's id."""
    return {row.paint: row.why for row in db.execute(select(wishes_table))}


def keep(db: Connection, paint: str, why: str, *, now: datetime) -> None:
    """Write down why a paint is wished for."""
    if paint in listed(db):
        rows.alter(db, wishes_table, {"paint": paint}, {"why": why})
    else:
        rows.add(db, wishes_table, [{"paint": paint, "why": why, "added": now}])
