"""Readings of one paint that was painted several times side by side on a sheet of tests."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, select

from halfpan.collection.tables import readings as readings_table
from halfpan.core.paint.reading import Lab


@dataclass(frozen=True, slots=True)
class Repeat:
    """One of the strokes: on which chart, in which box and zone, and what was read there."""

    chart: str | None
    box: str
    zone: str
    paint: str
    lab: Lab


def listed(db: Connection) -> list[Repeat]:
    """Return the accepted readings of the zones ``repeat 1``, ``repeat 2``, ..."""
    table = readings_table
    query = (
        select(
            table.c.chart,
            table.c.box,
            table.c.zone,
            table.c.paint,
            table.c.lab_l,
            table.c.lab_a,
            table.c.lab_b,
        )
        .where(table.c.zone.startswith("repeat "), table.c.state == "accepted", table.c.paint.is_not(None))
        .order_by(table.c.id)
    )
    return [
        Repeat(chart, box, zone, paint, (l, a, b)) for chart, box, zone, paint, l, a, b in db.execute(query)
    ]
