"""Lists for others: a class list by code with alternates and a basket, and a list by labels for children."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfpan.collection import paints
from halfpan.core.arranging.baskets import Basket, Line, Twin, cheapest_basket, read_line, twins
from halfpan.core.paint.cautions import ForChildren, for_children
from halfpan.core.paint.index import pigments
from halfpan.core.paint.paint import Paint
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class ListLine:
    """One line: its codes, codes of the same chemistry to think about, and paints that answer to it."""

    line: Line
    twins: tuple[Twin, ...]
    owned: tuple[Paint, ...]
    others: tuple[Paint, ...]


@dataclass(frozen=True, slots=True)
class ClassList:
    """A class list, and the cheapest basket for one student out of the prices this studio knows."""

    lines: tuple[ListLine, ...]
    basket: Basket
    paints: dict[str, Paint]


def class_list(
    studio: Studio, texts: Sequence[str], *, of: str = "", makers: Sequence[str] = (), currency: str = ""
) -> ClassList:
    """Return a list by code; ``of`` takes the codes of a tin's single-pigment paints beside ``texts``.

    Prices are those of paints owned and wished for; ``makers`` narrows them.

    Raises
    ------
    BadRequest, UnknownPaint
    """
    with studio.look() as db:
        everything = paints.listed(db)
        tin = offered_paints(db, of) if of else []
    lines = [read_line(text) for text in [*texts, *_codes(tin)]]
    lines = list(dict.fromkeys(lines))
    wanted = {maker.casefold() for maker in makers}
    offered = [one for one in everything if not wanted or one.maker.casefold() in wanted]
    known = list(pigments())
    listed = tuple(
        ListLine(
            line,
            twins(line, known),
            tuple(one for one in everything if one.owned and line.accepts(one)),
            tuple(one for one in everything if not one.owned and line.accepts(one)),
        )
        for line in lines
    )
    return ClassList(listed, cheapest_basket(lines, offered, currency), {one.id: one for one in everything})


def _codes(chosen: Sequence[Paint]) -> list[str]:
    return list(dict.fromkeys(one.codes[0] for one in chosen if len(set(one.codes)) == 1))


def children_list(studio: Studio, which: str = "all") -> tuple[tuple[ForChildren, ...], dict[str, Paint]]:
    """Sort the paints of a tin or list by what their labels say about children, in the labels' own words.

    Raises
    ------
    BadRequest, UnknownPaint, UnreadableTable
    """
    with studio.look() as db:
        chosen = offered_paints(db, which)
    return for_children(chosen), {one.id: one for one in chosen}
