"""What could replace a paint, out of those that are owned."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.arranging.substitutes import Substitutes, Wanted, find_substitutes
from halfpan.core.paint.paint import Paint
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.painted_paints import gather_painted
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Replaced:
    """The paint that is to be replaced, what could do so, and the paints spoken of by their id."""

    paint: Paint
    substitutes: Substitutes
    paints: dict[str, Paint]


def substitute_paint(studio: Studio, text: str, wanted: Wanted | None = None, *, most: int = 6) -> Replaced:
    """Rank the owned paints that could stand in for one.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        known = gather_painted(db)
    everything = known.paints()
    meant = pick_paint(list(everything.values()), text)
    found = find_substitutes(known.painted[meant.id], known.owned(), known.repeat, wanted, most=most)
    return Replaced(meant, found, everything)
