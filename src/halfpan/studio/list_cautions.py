"""Cautions of one paint or of a list, each with its witness; a class list by what its labels say."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.paint.cautions import Caution, ForChildren, cautions, for_children
from halfpan.core.paint.paint import Paint
from halfpan.studio.pick_paints import pick_paints
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Warned:
    """One paint, its cautions, and what its label says about children."""

    paint: Paint
    cautions: tuple[Caution, ...]
    children: ForChildren


def list_cautions(studio: Studio, which: str = "all") -> list[Warned]:
    """Return the cautions of the paints that a text means (see `pick_paints`).

    Raises
    ------
    BadRequest, UnknownPaint, UnreadableTable
    """
    with studio.look() as db:
        chosen = pick_paints(db, which)
    said = for_children(chosen)
    return [Warned(one, cautions(one), words) for one, words in zip(chosen, said, strict=True)]
