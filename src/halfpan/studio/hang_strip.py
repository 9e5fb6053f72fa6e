"""Begin a light test with its printed sheet, put right what is noted of it, end it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from halfpan.collection import changes, light_tests
from halfpan.collection.light_tests import LightTest
from halfpan.core.chart.sheet import Chart
from halfpan.core.fading.exposure import FACINGS, LOOKS, WOOLS
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.light_proof import strips_of
from halfpan.studio.rule_chart import ChartWish, keep_ruled, new_chart_id
from halfpan.studio.studio import Studio

BRIGHTEST = 150_000.0  # lx; more than the sun at noon


@dataclass(frozen=True, slots=True)
class Hung:
    """A light test that was begun: its sheet, and the file of the sheet's geometry."""

    test: LightTest
    chart: Chart
    geometry: Path


def hang_strip(
    studio: Studio,
    test: LightTest,
    sheet: ChartWish,
    pdf: Path,
    *,
    now: datetime,
    new_id: Callable[[], str] = new_chart_id,
    who: str = "",
) -> Hung:
    """Begin a light test: rule and write its sheet, and note when and where it hangs.

    Parameters
    ----------
    studio : Studio
    test : LightTest
        Its chart, paper and number are not looked at.
    sheet : ChartWish
        Which paints, on what; it becomes a sheet of a light test whatever its kind, under the test's name.
    pdf : Path
        The sheet; its geometry goes beside it.
    now : datetime
    new_id, who : optional

    Raises
    ------
    BadRequest, BadLayout, UnknownPaint, UnreadableTable
    """
    _check(test, now)
    wish = replace(sheet, kind="light", title=sheet.title or test.name)
    with studio.transaction() as db, changes.noted(db, f"began the light test {test.name}", now=now, who=who):
        number = light_tests.add(db, replace(test, chart=None))
        chart, geometry = keep_ruled(db, wish, pdf, now=now, chart_id=new_id(), who=who)
        light_tests.edit(db, replace(test, id=number, chart=chart.chart))
        return Hung(light_tests.find(db, number), chart, geometry)


def correct_strip(studio: Studio, named: str, *, now: datetime, who: str = "", **values: Any) -> LightTest:
    """Put right what is noted of a light test: place, facing, glass, latitude, light, looks, days.

    Raises
    ------
    BadRequest
    """
    if not values:
        raise BadRequest("Nothing was put right: say what of it, such as the day, the place or the glass.")
    with studio.transaction() as db:
        test = light_tests.find(db, named)
        changed = replace(test, **values)
        _check(changed, now)
        with changes.noted(db, f"corrected the light test {test.name}", now=now, who=who):
            light_tests.edit(db, changed)
        return changed


def end_strip(
    studio: Studio, named: str, day: date | None = None, *, now: datetime, who: str = ""
) -> LightTest:
    """End a light test: the sheet was taken out of the window, today or on a day that is told.

    Raises
    ------
    BadRequest
    """
    with studio.transaction() as db:
        test = light_tests.find(db, named)
        if test.ended is not None:
            raise BadRequest(f"The light test {test.name} ended on {test.ended.isoformat()} already.")
        ended = replace(test, ended=day or now.date())
        _check(ended, now)
        with changes.noted(db, f"ended the light test {test.name}", now=now, who=who):
            light_tests.edit(db, ended)
        return ended


def note_wool(
    studio: Studio, named: str, paint: str, wool: int, *, strength: str = "thin", now: datetime, who: str = ""
) -> Paint:
    """Note that a paint had changed as much as a blue wool reference that lay beside it, at the last look.

    Raises
    ------
    UnknownPaint, BadRequest
        When the paint is not in the test, or was not looked at yet.
    """
    if wool not in WOOLS:
        raise BadRequest(f"Blue wool references are numbered 1 to 8; there is no {wool}.")
    with studio.transaction() as db:
        test, meant = light_tests.find(db, named), find_paint(db, paint)
        strips = strips_of(test, light_tests.exposures(db))
        found = [one for one in strips if one.paint == meant.id and one.strength == strength]
        if not found:
            raise BadRequest(f"{meant.name} was not looked at in the light test {test.name} yet.")
        with changes.noted(db, f"compared {meant.name} with blue wool {wool}", now=now, who=who):
            light_tests.note_wool(db, found[0].last, wool)
        return meant


def days_to_look(text: str) -> tuple[int, ...]:
    """Return the days of a plan as it is written, ``7, 14, 30``; the proposal when nothing is.

    Raises
    ------
    BadRequest
    """
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not all(part.isdigit() and int(part) > 0 for part in parts):
        raise BadRequest(f"“{text}” are no days to look on; write them like 7, 14, 30.")
    return tuple(sorted({int(part) for part in parts})) or LOOKS


def _check(test: LightTest, now: datetime) -> None:
    """Refuse what a window cannot be."""
    if not test.name.strip():
        raise BadRequest("A light test needs a name, such as “South window”.")
    if test.facing and test.facing not in FACINGS:
        raise BadRequest(f"A window does not face “{test.facing}”; it faces one of: {', '.join(FACINGS)}.")
    if test.latitude_deg is not None and not -90 <= test.latitude_deg <= 90:
        raise BadRequest(f"A latitude of {test.latitude_deg:g} is not on earth: -90 to 90, south below 0.")
    if (test.lux is None) != (test.hours_a_day is None):
        raise BadRequest("A dose needs both: the light at the strip in lux, and how many hours a day.")
    if test.lux is not None and not 0 < test.lux <= BRIGHTEST:
        raise BadRequest(f"{test.lux:g} lux is no light of a window; the sun at noon is near 100000.")
    if test.hours_a_day is not None and not 0 < test.hours_a_day <= 24:
        raise BadRequest(f"A day does not have {test.hours_a_day:g} hours of light.")
    _check_days(test.started, test.ended, now.date())


def _check_days(started: date, ended: date | None, today: date) -> None:
    if started > today:
        raise BadRequest(f"{started.isoformat()} has not come yet; say the day once the sheet hangs.")
    if ended is not None and ended < started:
        raise BadRequest(f"It cannot end on {ended.isoformat()}: it began on {started.isoformat()}.")
    if ended is not None and ended > today:
        raise BadRequest(f"{ended.isoformat()} has not come yet; a light test is ended when it is over.")
