"""What lies in the drawer: what is left, where it is, what it cost, what runs out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from halfpan.collection import changes, paints, stock
from halfpan.collection.stock import Item
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio

LOW = 0.25
MOST = 1_000_000
AMOUNTS = {
    "size": "size in ml",
    "price": "price",
    "weight": "weight in grams",
    "empty": "weight of the empty tube in grams",
}
HALF_PAN_ML = 2.0
"""What one filling of a half pan takes: common practice, no source."""

USUAL_DENSITY = (1.3, 2.0)
"""Grams a millilitre of tube paint, from light to heavy pigments; an estimate, so the answer is a span."""


@dataclass(frozen=True, slots=True)
class StockLine:
    """One item and its paint, with what follows from them; none where it cannot be known."""

    paint: Paint
    item: Item

    @property
    def left(self) -> tuple[float, float] | None:
        """The share that is left, from and to: exact when stated, a span when weighed."""
        item = self.item
        if item.weight_g is not None and item.empty_g is not None and item.size_ml:
            grams = max(0.0, item.weight_g - item.empty_g)
            light, heavy = USUAL_DENSITY
            return min(1.0, grams / heavy / item.size_ml), min(1.0, grams / light / item.size_ml)
        return None if item.amount_left is None else (item.amount_left, item.amount_left)

    @property
    def low(self) -> bool:
        """Whether no more than a quarter is left, by what is known."""
        return self.left is not None and self.left[1] <= LOW

    @property
    def cost_per_ml(self) -> float | None:
        """Price over size."""
        item = self.item
        return item.price / item.size_ml if item.price is not None and item.size_ml else None

    @property
    def cost_per_half_pan(self) -> float | None:
        """Cost of one filling of a half pan."""
        return None if self.cost_per_ml is None else self.cost_per_ml * HALF_PAN_ML


def list_stock(
    studio: Studio, *, paint: str = "", low: bool = False, unused_since: date | None = None
) -> list[StockLine]:
    """Return the items in the drawer, by the number of their paint.

    Parameters
    ----------
    studio : Studio
    paint : str, optional
        Only items of this paint.
    low : bool, optional
        Only items that run out.
    unused_since : date, optional
        Only items whose last use is known and lies before this day.
    """
    with studio.look() as db:
        wanted = find_paint(db, paint).id if paint else None
        by_id = {one.id: one for one in paints.listed(db)}
        items = stock.listed(db, wanted)
    lines = [StockLine(by_id[item.paint], item) for item in items if item.paint in by_id]
    lines = [line for line in lines if not low or line.low]
    if unused_since is not None:
        lines = [one for one in lines if one.item.last_used is not None and one.item.last_used < unused_since]
    return lines


def add_item(studio: Studio, paint: str, item: Item, *, now: datetime, who: str = "") -> StockLine:
    """Add a tube, pan or stick of a paint that is in the collection; a wished paint becomes an owned one.

    Raises
    ------
    UnknownPaint, BadRequest
    """
    _check_amounts(size=item.size_ml, price=item.price)
    with studio.transaction() as db:
        meant = find_paint(db, paint)
        with changes.noted(db, f"another {item.form or 'item'} of {meant.name}", now=now, who=who):
            number = stock.add(db, meant.id, item)
            paints.edit(db, meant.id, owned=True)
        return StockLine(paints.of_ids(db, [meant.id])[0], replace(item, id=number, paint=meant.id))


def note_item(studio: Studio, number: int, *, now: datetime, who: str = "", **values: Any) -> StockLine:
    """Note what is left of an item, its weight, its place, that it went hard, was used or is gone.

    Raises
    ------
    BadRequest
        When nothing is noted, there is no such item, or an amount cannot be.
    """
    if not values:
        raise BadRequest("Nothing was noted: say what is left, its weight, its place, or what became of it.")
    _check_amounts(weight=values.get("weight_g"), empty=values.get("empty_g"))
    left = values.get("amount_left")
    if left is not None and not 0 <= left <= 1:
        raise BadRequest("What is left is a share from 0 to 1, or full, half, low, empty.")
    with studio.transaction() as db:
        found = [item for item in stock.listed(db, gone=True) if item.id == number]
        if not found:
            raise BadRequest(
                f"There is no item {number} in the drawer; `halfpan stock list` shows their numbers."
            )
        (paint,) = paints.of_ids(db, [found[0].paint])
        with changes.noted(db, f"noted the {found[0].form or 'item'} of {paint.name}", now=now, who=who):
            stock.edit(db, number, **values)
        (item,) = [one for one in stock.listed(db, gone=True) if one.id == number]
        return StockLine(paint, item)


def _check_amounts(**amounts: float | None) -> None:
    for what, amount in amounts.items():
        if amount is not None and not 0 <= amount < MOST:
            raise BadRequest(f"{amount:g} cannot be the {AMOUNTS[what]}; look at it again.")
