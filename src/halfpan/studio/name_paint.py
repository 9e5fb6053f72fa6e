"""What is this? Pigments that a painted and read paint may be made of."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.arranging.naming import Named, name_pigment
from halfpan.core.paint.paint import Paint
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.painted_paints import gather_painted
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class NamedHere:
    """The paint in question, the ranking, and the paints spoken of by their id."""

    paint: Paint
    named: Named
    paints: dict[str, Paint]


def name_paint(studio: Studio, text: str) -> NamedHere:
    """Rank pigments for one paint by how known paints of them look in this studio.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        known = gather_painted(db)
    everything = known.paints()
    meant = pick_paint(list(everything.values()), text)
    named = name_pigment(known.painted[meant.id], known.owned(), known.repeat)
    return NamedHere(meant, named, everything)
