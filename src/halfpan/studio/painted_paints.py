"""Paints with what their painted boxes and the painter's eye showed: what order and likeness are asked of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import findings, paints, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.finding import Finding
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import Said, findings_say
from halfpan.studio.light_proof import light_proof
from halfpan.studio.repeats import repeatability_of


@dataclass(frozen=True, slots=True)
class Gathered:
    """All paints of a studio by their id, wished ones too, and the painter's repeatability."""

    painted: dict[str, Painted]
    repeat: Repeatability

    def owned(self) -> list[Painted]:
        """Return those that are owned."""
        return [one for one in self.painted.values() if one.paint.owned]

    def paints(self) -> dict[str, Paint]:
        """Return the paints alone, by their id."""
        return {key: one.paint for key, one in self.painted.items()}


def gather_painted(db: Connection) -> Gathered:
    """Return everything that a question about likeness, order or substitutes looks at, read once."""
    accepted = swatches.listed(db, state="accepted")
    found = joined(db, paints.listed(db), swatches.best_of(accepted))
    return Gathered({one.paint.id: one for one in found}, repeatability_of(db, accepted))


def painted_paints(db: Connection, chosen: Sequence[Paint] | None = None) -> list[Painted]:
    """Return paints (all that are owned when none are named) with the swatch that counts for each."""
    named = chosen if chosen is not None else [one for one in paints.listed(db) if one.owned]
    if len(named) == 1:
        accepted = swatches.listed(db, paint=named[0].id, state="accepted")
        return joined(db, named, swatches.best_of(accepted))
    return joined(db, named, swatches.counting(db))


def joined(db: Connection, named: Iterable[Paint], counting: dict[str, KeptSwatch]) -> list[Painted]:
    """Return paints with the swatches that count, given by paint, and with what was found of them."""
    seen: dict[str, list[Finding]] = {}
    for kept in findings.listed(db):
        seen.setdefault(kept.paint, []).append(kept.finding)
    light = light_proof(db)
    return [
        Painted(
            one,
            counting[one.id].swatch if one.id in counting else None,
            _shown(findings_say(seen.get(one.id, ())), light.get(one.id)),
        )
        for one in named
    ]


def _shown(seen: dict[Property, Said], light: Said | None) -> dict[Property, Said]:
    """Return what eye and window tests showed; a measured test stands before the eye once it can tell."""
    if light is not None and (light.level is not None or "light" not in seen):
        return {**seen, "light": light}
    return seen
