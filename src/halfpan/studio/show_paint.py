"""What a studio knows of one paint, gathered for a command: reading, witnesses, cautions, boxes, stock."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from halfpan.collection import charts, stock, swatches
from halfpan.collection.stock import Item
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.cautions import Caution, cautions
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.witness import Statement
from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.find_paint import find_paint
from halfpan.studio.paint_document import paint_to_dict
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.read_document import swatch_to_dict
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class PaintShown:
    """One paint: the swatch that counts, three witnesses, cautions, boxes, and what lies in the drawer."""

    paint: Paint
    swatch: KeptSwatch | None
    statements: tuple[Statement, ...]
    cautions: tuple[Caution, ...]
    boxes: tuple[tuple[str, int, str], ...]
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
        own: list[Painted] = painted_paints(db, [paint])
        accepted = swatches.listed(db, paint=paint.id, state="accepted")
        return PaintShown(
            paint=paint,
            swatch=swatches.best_of(accepted).get(paint.id),
            statements=own[0].statements(),
            cautions=tuple(cautions(paint)),
            boxes=tuple(charts.with_paint(db, paint.id)),
            items=tuple(stock.listed(db, paint.id)),
        )


def shown_to_dict(shown: PaintShown) -> dict[str, Any]:
    """Return what is known of a paint as JSON can hold it."""
    return {
        "paint": paint_to_dict(shown.paint),
        "swatch": swatch_to_dict(shown.swatch, shown.paint.name) if shown.swatch else None,
        "statements": answer_to_document(shown.statements),
        "cautions": answer_to_document(shown.cautions),
        "boxes": [{"chart": chart, "page": page, "box": box} for chart, page, box in shown.boxes],
        "items": answer_to_document(shown.items),
    }
