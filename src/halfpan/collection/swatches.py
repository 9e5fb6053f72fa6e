"""What painted boxes told of their paints: worked out from readings, cached with the version that did."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import rows
from halfpan.collection.readings import rank
from halfpan.collection.tables import page_reads
from halfpan.collection.tables import swatches as swatches_table
from halfpan.core.paint.reading import State, Swatch


@dataclass(frozen=True, slots=True)
class KeptSwatch:
    """A swatch and where it comes from: chart, page read, photo."""

    swatch: Swatch
    taken: datetime
    id: int = 0
    chart: str | None = None
    page_read: int | None = None
    photo: str | None = None
    page: int | None = None
    tier: str = "none"
    state: State = "to review"
    chosen: bool = False
    version: str = ""


def _swatch(measures: Mapping[str, Any]) -> Swatch:
    values: dict[str, Any] = {
        name: tuple(value) if name in {"masstone", "mid", "tint"} and value is not None else value
        for name, value in measures.items()
        if name in Swatch.__dataclass_fields__
    }
    values["path"] = tuple((one[0], one[1], one[2]) for one in measures.get("path", ()))
    return Swatch(**values)


def _value(row: RowMapping) -> KeptSwatch:
    plain = ("taken", "id", "chart", "page_read", "photo", "page", "state", "chosen", "version")
    return KeptSwatch(
        swatch=_swatch(row["measures"]),
        tier=row["tier"] or "none",
        **{name: row[name] for name in plain},
    )


def _as_json(measures: Mapping[str, Any]) -> dict[str, Any]:
    """Return measures as they come back from the store: lists for tuples."""
    return {
        name: [list(one) if isinstance(one, tuple) else one for one in value]
        if isinstance(value, tuple)
        else value
        for name, value in measures.items()
    }


def add_all(db: Connection, new: Sequence[KeptSwatch]) -> list[int]:
    """Keep swatches and return their numbers."""
    values = [
        {
            "page_read": one.page_read,
            "chart": one.chart,
            "box": one.swatch.box,
            "paint": one.swatch.paint,
            "measures": _as_json(asdict(one.swatch)),
            "state": one.state,
            "chosen": one.chosen,
            "version": one.version,
            "taken": one.taken,
        }
        for one in new
    ]
    return [key["id"] for key in rows.add(db, swatches_table, values)]


def listed(
    db: Connection, *, paint: str | None = None, page_read: int | None = None, state: State | None = None
) -> list[KeptSwatch]:
    """Return swatches in the order they were kept, narrowed by what is given."""
    reads = page_reads
    query = (
        select(swatches_table, reads.c.photo, reads.c.page, reads.c.tier)
        .outerjoin(reads, reads.c.id == swatches_table.c.page_read)
        .order_by(swatches_table.c.id)
    )
    for name, value in {"paint": paint, "page_read": page_read, "state": state}.items():
        if value is not None:
            query = query.where(swatches_table.c[name] == value)
    return [_value(row) for row in db.execute(query).mappings()]


def set_state(db: Connection, ids: Iterable[int], state: State) -> None:
    """Accept swatches, set them aside, or put them back to review."""
    for number in ids:
        rows.alter(db, swatches_table, {"id": number}, {"state": state})


def move(db: Connection, chart: str, box: str, paint: str | None, name: str) -> None:
    """Give all swatches of a box to another paint."""
    for one in listed(db):
        if (one.chart, one.swatch.box) == (chart, box):
            measures = asdict(replace(one.swatch, paint=paint, name=name))
            rows.alter(db, swatches_table, {"id": one.id}, {"paint": paint, "measures": _as_json(measures)})


def choose(db: Connection, number: int) -> None:
    """Make one swatch the one that counts for its paint."""
    everything = listed(db)
    (one,) = (kept for kept in everything if kept.id == number)
    for other in everything:
        if other.swatch.paint == one.swatch.paint:
            rows.alter(db, swatches_table, {"id": other.id}, {"chosen": other.id == number})


def counting(db: Connection) -> dict[str, KeptSwatch]:
    """Return for each paint the accepted swatch that counts."""
    return best_of(listed(db, state="accepted"))


def best_of(accepted: Iterable[KeptSwatch]) -> dict[str, KeptSwatch]:
    """Return for each paint the one of some accepted swatches that counts."""
    best: dict[str, KeptSwatch] = {}
    for one in sorted(accepted, key=_rank):
        if one.swatch.paint is not None:
            best[one.swatch.paint] = one
    return best


def _rank(kept: KeptSwatch) -> tuple[bool, int, float, int]:
    within = kept.swatch.within_delta_e00
    return rank(kept.tier, float("inf") if within is None else within, kept.id, chosen=kept.chosen)
