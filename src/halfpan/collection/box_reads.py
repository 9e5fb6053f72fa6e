"""How far each painted box of each chart is read: accepted, to be looked over, or set aside."""

from __future__ import annotations

from sqlalchemy import Connection, select

from halfpan.collection.tables import page_reads, readings

STATES = ("set aside", "to review", "accepted")
Boxes = dict[tuple[int, str], str]


def listed(db: Connection) -> dict[str, Boxes]:
    """Return, by chart, the furthest state of each box (page, box) that was read from a photo."""
    query = (
        select(page_reads.c.chart, page_reads.c.page, readings.c.box, readings.c.state)
        .join(readings, readings.c.page_read == page_reads.c.id)
        .distinct()
    )
    found: dict[str, Boxes] = {}
    for chart, page, box, state in db.execute(query):
        boxes = found.setdefault(chart, {})
        boxes[page, box] = max(state, boxes.get((page, box), STATES[0]), key=STATES.index)
    return found
