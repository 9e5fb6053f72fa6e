"""Light tests: which sheet hangs in which window since when, and what was seen of it at each look."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import naming, readings, rows
from halfpan.collection.memory import Noun, remembered
from halfpan.collection.readings import KeptReading
from halfpan.collection.tables import charts, page_reads, papers
from halfpan.collection.tables import exposures as exposures_table
from halfpan.collection.tables import light_tests as tests_table
from halfpan.collection.tables import readings as readings_table
from halfpan.core.fading.exposure import LOOKS
from halfpan.errors import BadRequest


@dataclass(frozen=True, slots=True)
class LightTest:
    """One sheet in one window.

    ``looks`` are the days on which to look; ``lux`` and ``hours_a_day`` the light at the strip, where known.
    """

    name: str
    started: date
    id: int = 0
    chart: str | None = None
    place: str = ""
    facing: str = ""
    glass: str = ""
    latitude_deg: float | None = None
    looks: tuple[int, ...] = LOOKS
    lux: float | None = None
    hours_a_day: float | None = None
    ended: date | None = None
    notes: str = ""
    paper: str = ""


@dataclass(frozen=True, slots=True)
class Exposure:
    """One look at one wash: the half kept and the half in light, read in one photo.

    ``days`` are given where the look is older than its date; else they follow from ``looked``. ``blue_wool``
    is the reference that had changed as much, where one lay beside.
    """

    light_test: int
    box: str
    kept: KeptReading
    exposed: KeptReading
    looked: datetime
    id: int = 0
    photo: str | None = None
    days: float | None = None
    blue_wool: int | None = None
    dose: dict[str, Any] = field(default_factory=dict)

    @property
    def paint(self) -> str | None:
        """The paint, as its box is for now."""
        return self.kept.reading.paint


def _columns(test: LightTest) -> dict[str, Any]:
    return {
        "name": test.name,
        "chart": test.chart,
        "place": test.place,
        "facing": test.facing,
        "glass": test.glass,
        "latitude_deg": test.latitude_deg,
        "plan": {"looks": list(test.looks), "lux": test.lux, "hours_a_day": test.hours_a_day},
        "started": test.started,
        "ended": test.ended,
        "notes": test.notes,
    }


def _value(row: RowMapping) -> LightTest:
    names = ("id", "name", "chart", "place", "facing", "glass", "latitude_deg", "started", "ended", "notes")
    plan = row["plan"]
    return LightTest(
        **{name: row[name] for name in names},
        looks=tuple(plan.get("looks", LOOKS)),
        lux=plan.get("lux"),
        hours_a_day=plan.get("hours_a_day"),
        paper=row["paper"] or "",
    )


def listed(db: Connection) -> list[LightTest]:
    """Return all light tests, the oldest first, with the paper of their sheet."""
    query = (
        select(tests_table, papers.c.name.label("paper"))
        .outerjoin(charts, charts.c.id == tests_table.c.chart)
        .outerjoin(papers, papers.c.id == charts.c.paper)
        .order_by(tests_table.c.started, tests_table.c.id)
    )
    return [_value(row) for row in db.execute(query).mappings()]


def find(db: Connection, named: str | int) -> LightTest:
    """Return the light test of a name, a number or a chart.

    Raises
    ------
    BadRequest
        When there is none.
    """
    everything = listed(db)
    wanted = str(named).strip().casefold()
    of_chart = [test for test in everything if test.chart and test.chart.casefold() == wanted]
    return of_chart[0] if of_chart else naming.named(everything, named, "light test")


def of_chart(db: Connection, chart: str) -> LightTest | None:
    """Return the light test that a sheet was ruled for, or none."""
    return next((test for test in listed(db) if test.chart == chart), None)


def add(db: Connection, test: LightTest) -> int:
    """Add a light test and return its number; names are given once."""
    if any(test.name.casefold() == one.name.casefold() for one in listed(db)):
        raise BadRequest(f"There is a light test “{test.name}” already.")
    number: int = rows.add_one(db, tests_table, _columns(test))
    return number


def edit(db: Connection, test: LightTest) -> None:
    """Write a light test anew under its number."""
    rows.alter(db, tests_table, {"id": test.id}, _columns(test))


def look(db: Connection, exposures: Sequence[Exposure]) -> None:
    """Keep what was seen at one look."""
    values = [
        {
            "light_test": one.light_test,
            "paint": one.paint,
            "box": one.box,
            "kept_reading": one.kept.id,
            "exposed_reading": one.exposed.id,
            "days": one.days,
            "dose": one.dose,
            "looked": one.looked,
        }
        for one in exposures
    ]
    rows.add(db, exposures_table, values)


def note_wool(db: Connection, exposure: Exposure, wool: int) -> None:
    """Note which blue wool reference had changed as much at a look."""
    rows.alter(db, exposures_table, {"id": exposure.id}, {"dose": {**exposure.dose, "blue_wool": wool}})


def exposures(db: Connection) -> list[Exposure]:
    """Return every look at every wash, the oldest first, but for what was set aside or waits for review."""
    return remembered(db, EXPOSED)


def waiting(db: Connection, test: int) -> list[Exposure]:
    """Return looks of one test that count once a reading of theirs is reviewed, the oldest first."""
    looks = [one for one in _looks(db) if one.light_test == test]
    halves = [{one.kept.reading.state, one.exposed.reading.state} for one in looks]
    return [
        one
        for one, states in zip(looks, halves, strict=True)
        if "to review" in states and "set aside" not in states
    ]


def _read(db: Connection, wanted: Collection[str | None] | None) -> list[Exposure]:
    looks = _looks(db, wanted)
    return [one for one in looks if one.kept.reading.state == one.exposed.reading.state == "accepted"]


def _looks(db: Connection, wanted: Collection[str | None] | None = None) -> list[Exposure]:
    table, kept = exposures_table, readings_table.c
    query = (
        select(table, page_reads.c.photo)
        .outerjoin(readings_table, kept.id == table.c.kept_reading)
        .outerjoin(page_reads, page_reads.c.id == kept.page_read)
        .order_by(table.c.looked, table.c.id)
    )
    if wanted is not None:
        query = query.where(kept.paint.in_([one for one in wanted if one is not None]))
    found = db.execute(query).mappings().all()
    ids = [row[name] for row in found for name in ("kept_reading", "exposed_reading")]
    by_id = {one.id: one for one in readings.of_ids(db, ids)} if ids else {}
    both = [(row, by_id[row["kept_reading"]], by_id[row["exposed_reading"]]) for row in found]
    return [
        Exposure(
            light_test=row["light_test"],
            box=row["box"],
            kept=kept,
            exposed=exposed,
            looked=row["looked"],
            id=row["id"],
            photo=row["photo"],
            days=row["days"],
            blue_wool=row["dose"].get("blue_wool"),
            dose=row["dose"],
        )
        for row, kept, exposed in both
    ]


EXPOSED = Noun(
    "exposures",
    read=_read,
    paint=lambda one: one.paint,
    place=lambda one: (one.looked, one.id),
    own={"exposures": "paint", "readings": "paint"},
    shared={},
)
"""All looks at all washes, the oldest first."""
