"""The proposed order, odd neighbours, and the place of a new paint with the charts that it outdates."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import charts, orders
from halfpan.core.arranging.newcomer import ChartOrder, Gap, Repaint, outdated, place_newcomer
from halfpan.core.arranging.odd import Odd, odd_neighbours
from halfpan.core.arranging.order import OrderRule, Placed, in_order
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.paint import Paint
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.painted_paints import gather_painted, painted_paints
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Ordered:
    """The proposed order and, beside it, ``own``: the painter's, empty if there is none."""

    proposed: tuple[Placed, ...]
    own: tuple[str, ...]
    odd: tuple[Odd, ...]
    paints: dict[str, Paint]


@dataclass(frozen=True, slots=True)
class NewPlace:
    """Where a paint would stand in the order in use, and what it makes out of date."""

    paint: Paint
    gap: Gap
    repaints: tuple[Repaint, ...]
    paints: dict[str, Paint]


def order_paints(studio: Studio, rule: OrderRule | None = None) -> Ordered:
    """Return the proposed order of the owned paints, the painter's own, and the odd neighbours of the latter.

    Without an order of the painter's, the odd neighbours are those of the proposal.
    """
    with studio.look() as db:
        painted = painted_paints(db)
        own = tuple(orders.find(db))
    proposed = in_order(painted, rule)
    known = {one.paint.id: one for one in painted}
    used = [one for one in own if one in known] or [placed.paint for placed in proposed]
    families = {placed.paint: placed.family for placed in proposed}
    odd = odd_neighbours(used, known, families=rule, placed=families)
    return Ordered(proposed, own, odd, {key: one.paint for key, one in known.items()})


def place_paint(studio: Studio, text: str, rule: OrderRule | None = None) -> NewPlace:
    """Return where one paint would stand, were it new, and the smallest repaint of each chart.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        known = gather_painted(db)
        meant = pick_paint(list(known.paints().values()), text)
        newcomer = known.painted[meant.id]
        others = {one.paint.id: one for one in known.owned() if one.paint.id != meant.id}
        order = order_in_use(db, others, rule)
        boxes = _chart_orders(db)
    gap = place_newcomer(order, newcomer, others, rule)
    paints = {key: one.paint for key, one in others.items()}
    return NewPlace(meant, gap, outdated(boxes, meant.id, gap), paints)


def order_in_use(db: Connection, others: dict[str, Painted], rule: OrderRule | None = None) -> list[str]:
    """Return the painter's own order of some paints; those that it does not name follow as proposed."""
    own = [one for one in orders.find(db) if one in others]
    held = set(own)
    missing = [one for key, one in others.items() if key not in held]
    return [*own, *(placed.paint for placed in in_order(missing, rule))]


def _chart_orders(db: Connection) -> list[ChartOrder]:
    found = []
    for state in charts.listed(db):
        if state.kind not in {"swatch", "grid"}:
            continue
        kept = charts.find(db, state.chart)
        boxes = tuple(box.paint for page in kept.chart.pages for box in page.boxes)
        found.append(ChartOrder(state.chart, boxes, grid=state.kind == "grid"))
    return found
