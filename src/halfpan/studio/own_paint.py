"""Do I own this? By codes, by pigment under another name, by look, by name."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.arranging.owned import Owned, own
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest, UnknownPaint
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.painted_paints import gather_painted
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class OwnedHere:
    """The four answers, and the paints that they speak of by their id."""

    owned: Owned
    paints: dict[str, Paint]
    repeat: Repeatability


def own_paint(studio: Studio, text: str) -> OwnedHere:
    """Say which owned paints answer to some codes or a name.

    A text that means one paint of the studio (owned or wished for) is also compared by look.

    Raises
    ------
    BadRequest
        When nothing was asked.
    """
    if not text.strip():
        raise BadRequest("Say what to look for: codes such as PB60, or a name.")
    with studio.look() as db:
        known = gather_painted(db)
    everything = known.paints()
    try:
        like = known.painted[pick_paint(list(everything.values()), text).id]
    except UnknownPaint:
        like = None
    return OwnedHere(own(text, known.owned(), known.repeat, like=like), everything, known.repeat)
