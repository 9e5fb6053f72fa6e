"""Part the paints of a collection over two tins by the painter's own boundary; nothing moves until asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from halfpan.collection import changes, tins
from halfpan.collection.tins import Held, KeptTin
from halfpan.core.arranging.order import in_order
from halfpan.core.arranging.sides import Sided, SideRule, propose_sides
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Split:
    """What a boundary gives: a side for each paint, in the proposed order; the rule it rests on."""

    rule: SideRule
    sided: tuple[Sided, ...]
    paints: dict[str, Paint]

    def side(self, name: str) -> tuple[str, ...]:
        """Return the ids of the paints of one side."""
        return tuple(one.paint for one in self.sided if one.side == name)


def split_paints(studio: Studio, which: str = "all", rule: SideRule | None = None) -> Split:
    """Propose a side for each of some paints; a paint tagged with a side's name keeps to it.

    Raises
    ------
    BadRequest, UnknownPaint, UnreadableTable
    """
    used = rule or SideRule()
    with studio.look() as db:
        offered = offered_paints(db, which)
        painted = {one.paint.id: one for one in painted_paints(db, offered)}
    ordered = [painted[placed.paint] for placed in in_order(list(painted.values()))]
    tags = {one.id: side for one in offered for side in (used.first, used.second) if _tagged(one, side)}
    return Split(used, propose_sides(ordered, used, tags), {one.id: one for one in offered})


def _tagged(paint: Paint, side: str) -> bool:
    return side.casefold() in {tag.casefold() for tag in paint.tags}


def fill_by_side(
    studio: Studio, split: Split, named: tuple[str, str], *, now: datetime
) -> tuple[KeptTin, KeptTin]:
    """Put each side into its tin and name the tin by it; locked seats stay, undecided paints stay out.

    Raises
    ------
    BadRequest
        When a side does not fit into its tin, or both names mean one tin; nothing is moved then.
    """
    with studio.transaction() as db:
        first, second = (tins.find(db, name) for name in named)
        if first.id == second.id:
            raise BadRequest("Two different tins are needed, one for each side.")
        sides = (split.side(split.rule.first), split.side(split.rule.second))
        with changes.noted(db, f"parted paints over {first.name} and {second.name}", now=now):
            named_sides = (split.rule.first, split.rule.second)
            for tin, side, name in zip((first, second), sides, named_sides, strict=True):
                tins.edit(db, replace(tin, side=name, held=_held(tin, side)))
        return tins.find(db, first.id), tins.find(db, second.id)


def _held(tin: KeptTin, side: Sequence[str]) -> dict[str, Held]:
    locked = {seat: one for seat, one in tin.held.items() if one.locked}
    sitting = {one.paint for one in locked.values()}
    new = [paint for paint in side if paint not in sitting]
    free = [seat.name for seat in tin.tin.seats if seat.size and seat.name not in locked]
    if len(new) > len(free):
        raise BadRequest(f"{len(new)} paints and {len(free)} free seats in the tin “{tin.name}”.")
    return {**locked, **{seat: Held(paint) for seat, paint in zip(free, new, strict=False)}}
