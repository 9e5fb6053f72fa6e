"""Duplicates, look-alikes, cousins and namesakes of a studio."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.arranging.kin import Kin, find_kin
from halfpan.core.arranging.likeness import Likeness, find_likenesses, nearest
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.paint import Paint
from halfpan.studio.find_paint import find_paint
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.repeats import repeatability
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
        painted, repeat = painted_paints(db), repeatability(db)
    return Alike(
        find_likenesses(painted, repeat), find_kin(painted, repeat), repeat, _by_id(painted), _unread(painted)
    )


def find_alike_to(studio: Studio, text: str) -> Alike:
    """Return what is alike to one paint.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        meant = find_paint(db, text)
        (one,) = painted_paints(db, [meant])
        painted, repeat = painted_paints(db), repeatability(db)
    found = tuple(nearest(one, painted, repeat))
    return Alike(found, (), repeat, {meant.id: meant, **_by_id(painted)}, _unread(painted))


def _by_id(painted: list[Painted]) -> dict[str, Paint]:
    return {one.paint.id: one.paint for one in painted}


def _unread(painted: list[Painted]) -> int:
    return sum(1 for one in painted if one.swatch is None)
