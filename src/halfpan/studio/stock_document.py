"""The drawer and the wish list as the JSON documents that commands and pages give."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from halfpan.studio.paint_document import paint_to_dict
from halfpan.studio.stock import StockLine
from halfpan.studio.wish import Wish


def stock_to_dict(lines: Sequence[StockLine]) -> dict[str, Any]:
    """Return the items of the drawer with what is left of them."""
    return {
        "items": [
            {
                "item": one.item.id,
                "paint": one.paint.id,
                "name": one.paint.name,
                "form": one.item.form,
                "size_ml": one.item.size_ml,
                "left": one.left,
                "low": one.low,
                "place": one.item.place,
                "hard": one.item.hard,
                "cost_per_ml": one.cost_per_ml,
                "cost_per_half_pan": one.cost_per_half_pan,
                "currency": one.item.currency,
            }
            for one in lines
        ]
    }


def wishes_to_dict(found: Sequence[Wish]) -> dict[str, Any]:
    """Return the wishes with the owned paints they are already covered by, and in what those are the same."""
    return {
        "wishes": [
            {
                "paint": paint_to_dict(one.paint),
                "why": one.why,
                "same_codes": [p.id for p in one.same_codes],
                "covered_by": [
                    {"paint": cover.paint.id, "name": cover.paint.name, "ways": list(cover.ways)}
                    for cover in one.covered
                ],
            }
            for one in found
        ]
    }
