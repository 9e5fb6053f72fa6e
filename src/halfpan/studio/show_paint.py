"""All that a studio knows of one paint, gathered for a page or a command."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import stock
from halfpan.collection.stock import Item
from halfpan.core.paint.paint import Paint
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class PaintShown:
    """One paint, and what lies of it in the drawer."""

    paint: Paint
    items: tuple[Item, ...]


def show_paint(studio: Studio, text: str) -> PaintShown:
    """Return what is known of the paint that an id or a name means.

    Raises
    ------
    UnknownPaint
        When none or several answer.
    """
    with studio.look() as db:
        paint = find_paint(db, text)
        return PaintShown(paint, tuple(stock.listed(db, paint.id)))
