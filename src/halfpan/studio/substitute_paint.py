"""What could replace a paint, out of those that are owned."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.arranging.substitutes import Substitutes, Wanted, find_substitutes
from halfpan.core.paint.paint import Paint
from halfpan.studio.find_paint import find_paint
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.repeats import repeatability
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
        meant = find_paint(db, text)
        (target,) = painted_paints(db, [meant])
        mine = painted_paints(db)
        found = find_substitutes(target, mine, repeatability(db), wanted, most=most)
    return Replaced(meant, found, {one.paint.id: one.paint for one in mine})
