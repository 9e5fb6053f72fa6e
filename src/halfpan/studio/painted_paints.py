"""Paints with what their painted boxes showed: what order, likeness and substitutes are asked of."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from halfpan.collection import paints, swatches
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.paint import Paint


def painted_paints(db: Connection, chosen: Sequence[Paint] | None = None) -> list[Painted]:
    """Return paints (all that are owned when none are named) with the swatch that counts for each."""
    counting = swatches.counting(db)
    named = chosen if chosen is not None else [one for one in paints.listed(db) if one.owned]
    return [Painted(one, counting[one.id].swatch if one.id in counting else None) for one in named]
