"""Do I own this? By codes, by pigment under another name, by look, by name."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import paints
from halfpan.core.arranging.owned import Owned, own
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest, UnknownPaint
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.repeats import repeatability
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
        everything = paints.listed(db)
        painted = painted_paints(db, everything)
        repeat = repeatability(db)
    mine = [one for one in painted if one.paint.owned]
    try:
        meant = pick_paint(everything, text).id
    except UnknownPaint:
        meant = None
    like = next((one for one in painted if one.paint.id == meant), None)
    return OwnedHere(own(text, mine, repeat, like=like), {one.id: one for one in everything}, repeat)
