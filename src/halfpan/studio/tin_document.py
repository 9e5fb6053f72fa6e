"""A tin as the one JSON document that commands and pages give."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from halfpan.collection.tins import Held, KeptTin
from halfpan.core.paint.paint import Paint


def tins_to_dict(found: Iterable[KeptTin]) -> dict[str, Any]:
    """Return the list of tins: rows, side, how many pans sit in each."""
    return {
        "tins": [
            {"tin": t.name, "id": t.id, "rows": list(t.rows), "side": t.side, "pans": len(t.paints)}
            for t in found
        ]
    }


def tin_to_dict(tin: KeptTin, paints: Mapping[str, Paint]) -> dict[str, Any]:
    """Return a tin with its seats in mm, row by row, and who sits there."""
    layout = tin.tin
    return {
        "tin": tin.name,
        "id": tin.id,
        "rows": list(tin.rows),
        "width_mm": layout.width_mm,
        "height_mm": layout.height_mm,
        "side": tin.side,
        "notes": tin.notes,
        "seats": [
            {
                "seat": seat.name,
                "row": seat.row + 1,
                "size": seat.size,
                "rect_mm": [seat.x, seat.y, seat.width, seat.height],
                **_held(tin.held.get(seat.name, Held()), paints),
            }
            for seat in layout.seats
        ],
    }


def _held(held: Held, paints: Mapping[str, Paint]) -> dict[str, Any]:
    paint = paints.get(held.paint or "")
    return {
        "paint": held.paint,
        "name": paint.name if paint else None,
        "codes": list(paint.codes) if paint else [],
        "locked": held.locked,
        "note": held.note,
    }
