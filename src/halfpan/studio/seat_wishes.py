"""Who a painter wants where in a tin: by tags, by ids, and by how often a paint was mixed with."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from sqlalchemy import Connection

from halfpan.collection import mixes, paints, tins
from halfpan.core.arranging.wishes import SeatWishes
from halfpan.studio.find_paint import find_paints
from halfpan.studio.studio import Studio

STRONG, MOST_USED = "strong", "most used"


def wishes_for(
    studio: Studio,
    named: str,
    *,
    strong: Sequence[str] = (),
    most_used: Sequence[str] = (),
    by_mix_log: bool = False,
    clean_yellows: bool = False,
) -> SeatWishes:
    """Return the wishes for a tin.

    Parameters
    ----------
    studio, named
        The studio, and the tin's name or number.
    strong, most_used
        Ids or names, beside the paints tagged ``strong`` and ``most used``.
    by_mix_log
        Count the paints of the mix log; as many as the tin has full pans are among the most used.
    clean_yellows
        Keep yellows from what would soil them.

    Raises
    ------
    BadRequest, UnknownPaint
    """
    with studio.look() as db:
        tin = tins.find(db, named)
        held = paints.of_ids(db, list(tin.paints))
        used = {one.id for one in find_paints(db, most_used)}
        if by_mix_log:
            full = sum(seat.size == "full" for seat in tin.tin.seats)
            used |= set(_most_mixed(db, tin.paints, full))
        return SeatWishes(
            strong=frozenset(
                {one.id for one in find_paints(db, strong)} | {one.id for one in held if STRONG in one.tags}
            ),
            most_used=frozenset(used | {one.id for one in held if MOST_USED in one.tags}),
            clean_yellows=clean_yellows,
        )


def _most_mixed(db: Connection, among: Sequence[str], count: int) -> list[str]:
    mixed = Counter(paint for mix in mixes.listed(db) for paint, _ in mix.parts if paint in among)
    return [paint for paint, _ in mixed.most_common(count)]
