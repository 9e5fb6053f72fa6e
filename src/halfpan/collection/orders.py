"""The painter's own order of paints. Nothing but the painter ever changes it."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.tables import orders as orders_table

MINE = "mine"


def find(db: Connection, name: str = MINE) -> list[str]:
    """Return the ids of an order, empty when there is none."""
    table = orders_table
    query = select(table.c.paint).where(table.c.name == name).order_by(table.c.position)
    return list(db.execute(query).scalars())


def keep(db: Connection, paints: Sequence[str], name: str = MINE) -> None:
    """Write an order anew."""
    if find(db, name) == list(paints):
        return
    rows.drop(db, orders_table, orders_table.c.name == name)
    values = [{"name": name, "position": at, "paint": paint} for at, paint in enumerate(paints)]
    rows.add(db, orders_table, values)
