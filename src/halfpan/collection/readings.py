"""Readings as they were kept: value, doubt, witness and state. None is ever deleted or overwritten.

Answers use accepted readings. When a paint has several of one zone, the one the painter chose counts;
without a choice the better light tier, then the smaller radius, then the newer one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import rows
from halfpan.collection.tables import readings as readings_table
from halfpan.core.paint.reading import Lab, Reading, State
from halfpan.errors import BadRequest

UNDONE = "undone"
TIERS = ("instrument", "target", "known paints", "paper", "none")


@dataclass(frozen=True, slots=True)
class KeptReading:
    """A reading and where it comes from.

    ``amounts`` are (paint, amount) where it is known what was painted with how much: several for a mix, one
    for a step of a ladder. ``reflectance`` has 31 bands, 400 to 700 nm, where an instrument gave it.
    """

    reading: Reading
    taken: datetime
    id: int = 0
    chart: str | None = None
    page_read: int | None = None
    amounts: tuple[tuple[str, float], ...] = ()
    ground: str = "paper"
    reflectance: tuple[float, ...] | None = None
    paper: int | None = None
    paper_lab: Lab | None = None
    source: str = ""
    source_row: str = ""
    condition: str = ""
    version: str = ""
    chosen: bool = False
    reason: str = ""


def _value(row: RowMapping) -> KeptReading:
    reading = Reading(
        box=row["box"],
        paint=row["paint"],
        zone=row["zone"],
        lab=(row["lab_l"], row["lab_a"], row["lab_b"]),
        within_delta_e00=row["within_delta_e00"],
        tier=row["tier"],
        flags=tuple(row["flags"]),
        spread=row["spread"],
        count=row["count"],
        state=row["state"],
    )
    plain = ("id", "chart", "page_read", "ground", "paper", "source", "source_row", "condition", "version",
             "chosen", "reason", "taken")  # fmt: skip
    spectrum, white = row["reflectance"], row["paper_lab"]
    return KeptReading(
        reading=reading,
        amounts=tuple((paint, amount) for paint, amount in row["amounts"] or ()),
        reflectance=None if spectrum is None else tuple(spectrum),
        paper_lab=None if white is None else tuple(white),
        **{name: row[name] for name in plain},
    )


def _columns(kept: KeptReading) -> dict[str, Any]:
    one = kept.reading
    return {
        "page_read": kept.page_read,
        "chart": kept.chart,
        "box": one.box,
        "paint": one.paint,
        "amounts": [list(part) for part in kept.amounts] or None,
        "zone": one.zone,
        "ground": kept.ground,
        "lab_l": one.lab[0],
        "lab_a": one.lab[1],
        "lab_b": one.lab[2],
        "reflectance": None if kept.reflectance is None else list(kept.reflectance),
        "within_delta_e00": one.within_delta_e00,
        "spread": one.spread,
        "count": one.count,
        "flags": list(one.flags),
        "tier": one.tier,
        "state": one.state,
        "reason": kept.reason,
        "chosen": kept.chosen,
        "paper": kept.paper,
        "paper_lab": None if kept.paper_lab is None else list(kept.paper_lab),
        "source": kept.source,
        "source_row": kept.source_row,
        "condition": kept.condition,
        "version": kept.version,
        "taken": kept.taken,
    }


def add_all(db: Connection, new: Sequence[KeptReading]) -> list[int]:
    """Keep readings and return their numbers; the ``id`` they came with is not looked at."""
    return [key["id"] for key in rows.add(db, readings_table, [_columns(one) for one in new])]


def _asked(db: Connection, query: Select[Any]) -> list[KeptReading]:
    return [_value(row) for row in db.execute(query.order_by(readings_table.c.id)).mappings().all()]


def listed(
    db: Connection,
    *,
    paint: str | None = None,
    chart: str | None = None,
    page_read: int | None = None,
    state: State | None = None,
) -> list[KeptReading]:
    """Return readings in the order they were kept, narrowed by what is given."""
    given = {"paint": paint, "chart": chart, "page_read": page_read, "state": state}
    query = select(readings_table)
    for name, value in given.items():
        if value is not None:
            query = query.where(readings_table.c[name] == value)
    return _asked(db, query)


def of_ids(db: Connection, ids: Iterable[int]) -> list[KeptReading]:
    """Return the readings of these numbers.

    Raises
    ------
    BadRequest
        When one of them does not exist.
    """
    wanted = list(dict.fromkeys(ids))
    query = select(readings_table).where(readings_table.c.id.in_(map(rows.askable, wanted)))
    found = {one.id: one for one in _asked(db, query)}
    if missing := [number for number in wanted if number not in found]:
        raise BadRequest(f"There is no reading {missing[0]}; `halfpan readings list` shows their numbers.")
    return [found[number] for number in wanted]


def from_source(db: Connection, source: str) -> set[str]:
    """Return the rows of a file that were kept before and not undone, so that nothing is added twice."""
    table = readings_table
    undone = (table.c.state == "set aside") & (table.c.reason == UNDONE)
    query = select(table.c.source_row).where(table.c.source == source, ~undone)
    return set(db.execute(query).scalars())


def set_state(db: Connection, ids: Iterable[int], state: State, *, reason: str = "") -> None:
    """Accept readings, set them aside with a reason, or put them back to review."""
    for number in ids:
        values: dict[str, Any] = {"state": state, "reason": reason}
        rows.alter(db, readings_table, {"id": number}, values)


def choose(db: Connection, number: int) -> None:
    """Make one reading the one that counts for its paint and zone."""
    (one,) = of_ids(db, [number])
    for other in listed(db, paint=one.reading.paint):
        if other.reading.zone == one.reading.zone and other.ground == one.ground:
            rows.alter(db, readings_table, {"id": other.id}, {"chosen": other.id == number})


def move(db: Connection, chart: str, box: str, paint: str | None) -> None:
    """Give all readings of a box to another paint."""
    for one in listed(db, chart=chart):
        if one.reading.box == box:
            rows.alter(db, readings_table, {"id": one.id}, {"paint": paint})


def rank(tier: str, within: float, number: int, *, chosen: bool) -> tuple[bool, int, float, int]:
    """Return by what readings are sorted, the one that counts last."""
    return chosen, -TIERS.index(tier), -within, number


def counting(db: Connection) -> dict[tuple[str, str], KeptReading]:
    """Return for each (paint, zone) the accepted reading that counts; mixes and ladders are left out."""
    query = select(readings_table).where(
        readings_table.c.state == "accepted", readings_table.c.paint.is_not(None)
    )
    best: dict[tuple[str, str], KeptReading] = {}
    kept = [one for one in _asked(db, query) if not one.amounts]
    for one in sorted(
        kept,
        key=lambda k: rank(k.reading.tier, k.reading.within_delta_e00, k.id, chosen=k.chosen),
    ):
        best[one.reading.paint or "", one.reading.zone] = one
    return best
