"""A tin as its page shows it: who sits where with their own boxes, who lies on the table, what looks odd."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import paints, swatches, tins
from halfpan.collection.swatches import KeptSwatch
from halfpan.collection.tins import KeptTin
from halfpan.core.paint.paint import Paint
from halfpan.studio.seat_tin import OddSeat, odd_seats
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class TinSeen:
    """One tin, all owned paints by id and their counting boxes; ``table`` are those not in the tin."""

    tin: KeptTin
    paints: dict[str, Paint]
    boxes: dict[str, KeptSwatch]
    table: tuple[Paint, ...]
    odd: tuple[OddSeat, ...]

    @property
    def free(self) -> int:
        """How many seats take a pan and hold none."""
        return sum(seat.size is not None for seat in self.tin.tin.seats) - len(self.tin.paints)


def see_tin(studio: Studio, named: str) -> TinSeen:
    """Return what a tin's page shows.

    Raises
    ------
    BadRequest
        When there is no such tin.
    """
    with studio.look() as db:
        tin = tins.find(db, named)
        held = set(tin.paints)
        known = [one for one in paints.listed(db) if one.owned or one.id in held]
        boxes = {paint: box for paint, box in swatches.counting(db).items() if box.page_read is not None}
    table = tuple(one for one in known if one.id not in held)
    return TinSeen(tin, {one.id: one for one in known}, boxes, table, odd_seats(studio, str(tin.id)))


def see_tins(studio: Studio) -> list[TinSeen]:
    """Return all tins by name, without what lies beside them."""
    with studio.look() as db:
        found = tins.listed(db)
        known = {one.id: one for one in paints.listed(db)}
        boxes = {paint: box for paint, box in swatches.counting(db).items() if box.page_read is not None}
    return [TinSeen(tin, known, boxes, (), ()) for tin in found]
