"""Lay out the painter's own order: one paint lifted and put down before another."""

from __future__ import annotations

from datetime import datetime

from halfpan.collection import changes, orders, paints
from halfpan.studio.find_paint import find_paint
from halfpan.studio.see_wall import WallPaint
from halfpan.studio.studio import Studio


def move_paint(
    studio: Studio, wall: tuple[WallPaint, ...], paint: str, before: str, *, now: datetime, who: str = ""
) -> list[str]:
    """Put a paint before another one (at the end when ``before`` is empty) and return the whole order.

    Paints that the order did not name yet keep their place on the wall, after those it does.

    Raises
    ------
    UnknownPaint
    """
    with studio.transaction() as db:
        moved = find_paint(db, paint)
        next_one = find_paint(db, before).id if before else None
        held = {one.id for one in paints.listed(db)}
        order = [one for one in orders.find(db) if one in held]
        order += [one.paint.id for one in wall if one.paint.id not in set(order)]
        order.remove(moved.id)
        order.insert(order.index(next_one) if next_one in order else len(order), moved.id)
        with changes.noted(db, f"moved {moved.name} in my own order", now=now, who=who):
            orders.keep(db, order)
        return order
