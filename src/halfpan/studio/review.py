"""Look at readings and say which count: accept, set aside with a reason, choose among several.

Nothing is deleted. What a box tells about its paint follows its readings: it counts once none of them
waits, and is set aside with its full-strength reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection

from halfpan.collection import changes, charts, paints, readings, swatches
from halfpan.collection.readings import KeptReading
from halfpan.core.paint.reading import State
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.keep_page import DOUBTFUL
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Which:
    """Which readings are meant: by numbers, by chart, by box of a chart, by paint, by state."""

    numbers: tuple[int, ...] = ()
    chart: str = ""
    box: str = ""
    paint: str = ""
    state: State | None = None


@dataclass(frozen=True, slots=True)
class NamedReading:
    """A reading and the name of its paint, empty where it has none."""

    kept: KeptReading
    name: str


def list_readings(studio: Studio, which: Which) -> list[NamedReading]:
    """Return the readings that are meant; the doubtful ones come first when they wait for review.

    Raises
    ------
    UnknownChart, UnknownPaint, BadRequest
    """
    with studio.look() as db:
        found = _meant(db, which)
        names = {one.id: one.name for one in paints.of_ids(db, [k.reading.paint or "" for k in found])}
    if which.state == "to review":
        found.sort(key=lambda k: (-len(DOUBTFUL & set(k.reading.flags)), -k.reading.within_delta_e00, k.id))
    return [NamedReading(one, names.get(one.reading.paint or "", "")) for one in found]


def accept(studio: Studio, which: Which, *, now: datetime, who: str = "") -> int:
    """Accept readings that wait for review (or, by number, any) and return how many changed."""
    return _settle(studio, which, "accepted", "", now=now, who=who)


def set_aside(studio: Studio, which: Which, reason: str, *, now: datetime, who: str = "") -> int:
    """Set readings aside; the reason is kept with them.

    Raises
    ------
    BadRequest
        When no reason is given.
    """
    if not reason.strip():
        raise BadRequest("Say why with --reason; it is kept beside the reading.")
    return _settle(studio, which, "set aside", reason.strip(), now=now, who=who)


def put_back(studio: Studio, which: Which, *, now: datetime, who: str = "") -> int:
    """Put readings back to review."""
    return _settle(studio, which, "to review", "", now=now, who=who)


def choose(studio: Studio, number: int, *, now: datetime, who: str = "") -> KeptReading:
    """Make one reading the one that counts for its paint and zone, accepting it if need be."""
    with studio.transaction() as db:
        (one,) = readings.of_ids(db, [number])
        if one.reading.paint is None:
            raise BadRequest(
                f"Reading {number} is of no single paint, so there is nothing to choose between."
            )
        with changes.noted(db, f"chose reading {number}", now=now, who=who):
            readings.set_state(db, [number], "accepted")
            readings.choose(db, number)
            _follow(db, [one])
            _choose_swatch(db, one)
        return readings.of_ids(db, [number])[0]


def _settle(studio: Studio, which: Which, state: State, reason: str, *, now: datetime, who: str) -> int:
    with studio.transaction() as db:
        meant = [one for one in _meant(db, which) if one.reading.state != state]
        if not which.numbers and state == "accepted":
            meant = [one for one in meant if one.reading.state == "to review"]
        with changes.noted(db, _said(state, len(meant)), now=now, who=who):
            readings.set_state(db, [one.id for one in meant], state, reason=reason)
            _follow(db, meant)
        return len(meant)


def _said(state: State, count: int) -> str:
    """Say what was done to readings, for the list of changes."""
    some = f"{count} reading{'' if count == 1 else 's'}"
    return {"accepted": f"accepted {some}", "set aside": f"set {some} aside"}.get(
        state, f"put {some} back to review"
    )


def _meant(db: Connection, which: Which) -> list[KeptReading]:
    if which.numbers:
        return readings.of_ids(db, which.numbers)
    chart = charts.find(db, which.chart).chart.chart if which.chart else None
    paint = find_paint(db, which.paint).id if which.paint else None
    if which.box and chart is None:
        raise BadRequest("A box is meant only together with its chart; say which with --chart.")
    found = readings.listed(db, chart=chart, paint=paint, state=which.state)
    return [one for one in found if not which.box or one.reading.box.casefold() == which.box.casefold()]


def _follow(db: Connection, changed: Iterable[KeptReading]) -> None:
    """Let what boxes tell follow the state of their readings."""
    touched = {(one.page_read, one.reading.box) for one in changed if one.page_read is not None}
    for page_read in {number for number, _ in touched if number is not None}:
        held = readings.listed(db, page_read=page_read)
        for swatch in swatches.listed(db, page_read=page_read):
            box = swatch.swatch.box
            if (page_read, box) in touched:
                state = _state_of([one for one in held if one.reading.box == box])
                swatches.set_state(db, [swatch.id], state)


def _state_of(box: Sequence[KeptReading]) -> State:
    if any(one.reading.state == "set aside" and one.reading.zone == "masstone" for one in box):
        return "set aside"
    return "to review" if any(one.reading.state == "to review" for one in box) else "accepted"


def _choose_swatch(db: Connection, one: KeptReading) -> None:
    if one.reading.zone != "masstone" or one.page_read is None:
        return
    for swatch in swatches.listed(db, page_read=one.page_read):
        if swatch.swatch.box == one.reading.box:
            swatches.choose(db, swatch.id)
