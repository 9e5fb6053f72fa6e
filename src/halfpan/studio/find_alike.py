"""Duplicates, look-alikes, cousins and namesakes of a studio."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.arranging.kin import Kin, find_kin
from halfpan.core.arranging.likeness import Likeness, find_likenesses, nearest
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.paint import Paint
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.painted_paints import gather_painted
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Alike:
    """What is alike, held against which repeatability; ``unread`` paints could not be looked at."""

    likenesses: tuple[Likeness, ...]
    kin: tuple[Kin, ...]
    repeat: Repeatability
    paints: dict[str, Paint]
    unread: int


def find_alike(studio: Studio) -> Alike:
    """Return all that is alike among the owned paints."""
    with studio.look() as db:
        known = gather_painted(db)
    painted, repeat = known.owned(), known.repeat
    return studio.memory.worked_out("alike", (painted, repeat), lambda: _alike(painted, repeat))


def find_alike_to(studio: Studio, text: str) -> Alike:
    """Return what is alike to one paint.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        known = gather_painted(db)
    meant = pick_paint(list(known.paints().values()), text)
    painted, repeat = known.owned(), known.repeat
    found = tuple(nearest(known.painted[meant.id], painted, repeat))
    return Alike(found, (), repeat, known.paints(), _unread(painted))


def _alike(painted: list[Painted], repeat: Repeatability) -> Alike:
    return Alike(
        find_likenesses(painted, repeat), find_kin(painted, repeat), repeat, _by_id(painted), _unread(painted)
    )


def _by_id(painted: list[Painted]) -> dict[str, Paint]:
    return {one.paint.id: one.paint for one in painted}


def _unread(painted: list[Painted]) -> int:
    return sum(1 for one in painted if one.swatch is None)
