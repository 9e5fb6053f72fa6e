"""Which paints a question may use: those of a tin, of a list, or all that are owned."""

from __future__ import annotations

from sqlalchemy import Connection

from halfpan.collection import paints, tins
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest, UnknownPaint
from halfpan.studio.pick_paints import pick_paints


def offered_paints(db: Connection, text: str) -> list[Paint]:
    """Return the paints of the tin of that name, or those that `pick_paints` finds.

    Raises
    ------
    BadRequest, UnknownPaint, UnreadableTable
    """
    named = text.strip().casefold()
    everything = tins.listed(db)
    tin = next((one for one in everything if one.name.casefold() == named), None)
    if tin is None:
        try:
            return pick_paints(db, text)
        except UnknownPaint as unknown:
            names = ", ".join(one.name for one in everything) or "none yet"
            raise UnknownPaint(f"{unknown} The tins are: {names}.") from None
    if not tin.paints:
        raise BadRequest(f"The tin “{tin.name}” is empty; put pans into it first.")
    return paints.of_ids(db, list(dict.fromkeys(tin.paints)))
