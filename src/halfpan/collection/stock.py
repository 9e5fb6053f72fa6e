"""What lies in the drawer: tubes, pans and sticks, one row each, with what is left of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.tables import stock as stock_table
from halfpan.core.paint.paint import Paint


@dataclass(frozen=True, slots=True)
class Item:
    """One tube, pan or stick. ``amount_left`` runs from 0, empty, to 1, full; none is unknown."""

    id: int = 0
    paint: str = ""
    form: str = ""
    size_ml: float | None = None
    price: float | None = None
    currency: str = ""
    batch: str = ""
    bought: date | None = None
    amount_left: float | None = None
    weight_g: float | None = None
    empty_g: float | None = None
    hard: bool = False
    last_used: date | None = None
    place: str = ""
    gone: datetime | None = None


_COLUMNS = [stock_table.c[name] for name in Item.__dataclass_fields__]


def listed(db: Connection, paint: str | None = None, *, gone: bool = False) -> list[Item]:
    """Return the items of one paint or of all, in the order they came; used-up ones only when asked."""
    query = select(*_COLUMNS).order_by(stock_table.c.id)
    if paint is not None:
        query = query.where(stock_table.c.paint == paint)
    if not gone:
        query = query.where(stock_table.c.gone.is_(None))
    return [Item(*row) for row in db.execute(query).all()]


def from_paint(paint: Paint) -> Item:
    """Return what a paint says about the tube it came in."""
    return Item(
        form=paint.form,
        size_ml=paint.size_ml,
        price=paint.price,
        currency=paint.currency,
        batch=paint.batch,
        bought=paint.bought,
        amount_left=paint.amount_left,
        place=paint.place,
    )


def add_from_paints(db: Connection, paints: Sequence[tuple[str, Paint]]) -> None:
    """Add the tube each paint came in, under the paint's id."""
    rows.add(db, stock_table, [_columns(from_paint(paint)) | {"paint": key} for key, paint in paints])


def add(db: Connection, paint: str, item: Item) -> int:
    """Add one more item of a paint and return its number."""
    number: int = rows.add_one(db, stock_table, _columns(item) | {"paint": paint})
    return number


def _columns(item: Item) -> dict[str, Any]:
    return {name: getattr(item, name) for name in Item.__dataclass_fields__ if name not in {"id", "paint"}}


def edit(db: Connection, item: int, **values: Any) -> None:
    """Change what is noted of one item: amount left, weight, place, hard, last used, gone."""
    rows.alter(db, stock_table, {"id": item}, values)
