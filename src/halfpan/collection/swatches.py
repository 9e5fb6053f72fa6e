"""What painted boxes told of their paints: worked out from readings, cached with the version that did."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, select

from halfpan.collection import rows
from halfpan.collection.memory import Noun, remembered
from halfpan.collection.readings import rank
from halfpan.collection.tables import page_reads
from halfpan.collection.tables import swatches as swatches_table
from halfpan.core.paint.reading import State, Swatch

_FIELDS = frozenset(Swatch.__dataclass_fields__)


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


def _swatch(measures: dict[str, Any]) -> Swatch:
    if not _FIELDS.issuperset(measures):  # kept by another version
        measures = {name: value for name, value in measures.items() if name in _FIELDS}
    for zone in ("masstone", "mid", "tint"):
        if (lab := measures.get(zone)) is not None:
            measures[zone] = tuple(lab)
    measures["path"] = tuple(map(tuple, measures.get("path", ())))
    return Swatch(**measures)


def _value(row: Sequence[Any]) -> KeptSwatch:
    key, measures, state, chosen, version, taken, chart, page_read, photo, page, tier = row
    return KeptSwatch(
        swatch=_swatch(measures),
        taken=taken,
        id=key,
        chart=chart,
        page_read=page_read,
        photo=photo,
        page=page,
        tier=tier or "none",
        state=state,
        chosen=chosen,
        version=version,
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
    if state in IN_USE and paint is None and page_read is None:
        return remembered(db, IN_USE[state])
    query = _picked()
    for name, value in {"paint": paint, "page_read": page_read, "state": state}.items():
        if value is not None:
            query = query.where(swatches_table.c[name] == value)
    return _asked(db, query)


def _picked() -> Select[Any]:
    own, reads = swatches_table.c, page_reads.c
    return select(
        own.id, own.measures, own.state, own.chosen, own.version, own.taken, own.chart, own.page_read,
        reads.photo, reads.page, reads.tier,
    ).outerjoin(page_reads, reads.id == own.page_read)  # fmt: skip


def _asked(db: Connection, query: Select[Any]) -> list[KeptSwatch]:
    return [_value(row) for row in db.execute(query.order_by(swatches_table.c.id)).all()]


def _in_state(state: State) -> Noun[KeptSwatch]:
    def read(db: Connection, wanted: Collection[str | None] | None) -> list[KeptSwatch]:
        query = _picked().where(swatches_table.c.state == state)
        if wanted is not None:
            paint = swatches_table.c.paint
            query = query.where(
                paint.in_([one for one in wanted if one]) | (paint.is_(None) & (None in wanted))
            )
        return _asked(db, query)

    return Noun(
        f"swatches {state}",
        read=read,
        paint=lambda one: one.swatch.paint,
        place=lambda one: one.id,
        own={"swatches": "paint"},
        shared={"page_reads": {"photo", "page", "tier"}},
    )


IN_USE: dict[State | None, Noun[KeptSwatch]] = {
    "accepted": _in_state("accepted"), "to review": _in_state("to review"),
}  # fmt: skip
"""Swatches that count or may count one day; those set aside are looked for when they are asked for."""


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
    for one in accepted:
        paint = one.swatch.paint
        if paint is not None and (paint not in best or _rank(best[paint]) < _rank(one)):
            best[paint] = one
    return best


def _rank(kept: KeptSwatch) -> tuple[bool, int, float, int]:
    within = kept.swatch.within_delta_e00
    return rank(kept.tier, float("inf") if within is None else within, kept.id, chosen=kept.chosen)
