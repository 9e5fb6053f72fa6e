"""Paints with what their painted boxes and the painter's eye showed: what order and likeness are asked of."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from halfpan.collection import findings, paints, swatches
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.finding import Finding
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.witness import findings_say


def painted_paints(db: Connection, chosen: Sequence[Paint] | None = None) -> list[Painted]:
    """Return paints (all that are owned when none are named) with the swatch that counts for each."""
    counting = swatches.counting(db)
    seen: dict[str, list[Finding]] = {}
    for kept in findings.listed(db):
        seen.setdefault(kept.paint, []).append(kept.finding)
    named = chosen if chosen is not None else [one for one in paints.listed(db) if one.owned]
    return [
        Painted(
            one,
            counting[one.id].swatch if one.id in counting else None,
            findings_say(seen[one.id]) if one.id in seen else {},
        )
        for one in named
    ]
