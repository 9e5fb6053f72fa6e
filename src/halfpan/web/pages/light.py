"""Light tests: which sheets hang in which windows, and what light has done to each paint."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from markupsafe import Markup
from pydantic import BaseModel
from starlette.responses import Response

from halfpan.collection.light_tests import LightTest
from halfpan.core.chart.sizes import SIZES_MM
from halfpan.core.fading.exposure import FACINGS
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.files.words import say
from halfpan.studio.follow_light_tests import StripSeen, due_now, follow_light_test, follow_light_tests
from halfpan.studio.hang_strip import correct_strip, days_to_look, end_strip, hang_strip
from halfpan.studio.keep_paper import list_papers
from halfpan.studio.rule_chart import ChartWish, new_chart_id
from halfpan.web.asked import AskedNow, AskedStudio
from halfpan.web.drawing.light_plot import light_plot
from halfpan.web.frame import box_url, show
from halfpan.web.pages.charts import pdf_of
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)
MOST = 60
"""Paints to test first that the page lists."""


class Noted(BaseModel):
    """What a form says of a window, as it is typed."""

    started: str = ""
    place: str = ""
    facing: str = ""
    glass: str = ""
    latitude: str = ""
    lux: str = ""
    hours: str = ""
    looks: str = ""

    def values(self, today: date) -> dict[str, Any]:
        """Return it as a light test holds it; an empty field is unknown.

        Raises
        ------
        BadRequest
        """
        return {
            "started": _day(self.started) or today,
            "place": self.place.strip(),
            "facing": self.facing,
            "glass": self.glass.strip(),
            "latitude_deg": _number(self.latitude),
            "lux": _number(self.lux),
            "hours_a_day": _number(self.hours),
            "looks": days_to_look(self.looks),
        }


class Begun(Noted):
    """What the form for a new test says besides."""

    name: str = ""
    paint: list[str] = []
    others: str = ""
    sheet: str = "A4"
    paper: str = ""


@router.get("/light")
def light_page(request: Request, studio: AskedStudio, now: AskedNow) -> Response:
    """List the light tests, what is to be looked at now, and which paints to test first."""
    due = due_now(studio, now=now)
    matter = {
        "tests": follow_light_tests(studio, now=now),
        "due": due,
        "first": due.first[:MOST],
        "more": max(0, len(due.first) - MOST),
        "facings": FACINGS,
        "sizes": tuple(SIZES_MM),
        "papers": [one.name for one in list_papers(studio)],
        "today": now.date(),
    }
    return show(request, "light_tests.html", matter, section="light-tests")


@router.post("/light/new")
def begin(studio: AskedStudio, now: AskedNow, asked: Annotated[Begun, Form()]) -> Response:
    """Rule the sheet of a new light test."""
    wanted = [*asked.paint, *(part.strip() for part in asked.others.split(",") if part.strip())]
    if not wanted:
        raise BadRequest(say("light.nobody"))
    chart = new_chart_id()
    pdf = pdf_of(studio, chart)
    pdf.parent.mkdir(exist_ok=True)
    test = LightTest(asked.name.strip(), **asked.values(now.date()))
    sheet = ChartWish(paints=",".join(wanted), sheet=asked.sheet, paper=asked.paper)
    hung = hang_strip(studio, test, sheet, pdf, now=now, new_id=lambda: chart)
    return done_at(f"/light/{hung.test.id}", studio)


@router.get("/light/{test}")
def one_test(request: Request, test: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Show one light test: each paint half covered, half in light, and its change over the days."""
    found = follow_light_test(studio, test, now=now)
    chart = found.test.chart or ""
    matter = {
        "seen": found,
        "paints": by_paint(found.strips),
        "printable": bool(chart) and pdf_of(studio, chart).exists(),
        "facings": FACINGS,
    }
    return show(request, "light_test.html", matter, section="light-tests")


@router.post("/light/{test}/correct")
def correct(test: str, studio: AskedStudio, now: AskedNow, asked: Annotated[Noted, Form()]) -> Response:
    """Put right what is noted of a light test."""
    kept = follow_light_test(studio, test, now=now).test
    correct_strip(studio, test, now=now, **asked.values(kept.started))
    return done_at(f"/light/{kept.id}", studio)


@router.post("/light/{test}/end")
def end(test: str, studio: AskedStudio, now: AskedNow, ended: Annotated[str, Form()] = "") -> Response:
    """End a light test."""
    kept = end_strip(studio, test, _day(ended), now=now)
    return done_at(f"/light/{kept.id}", studio)


def by_paint(strips: Sequence[StripSeen]) -> list[tuple[Paint | None, str, list[StripSeen], Markup]]:
    """Gather the strokes of a box: its paint, its picture, the strokes, and their plot."""
    boxes: dict[str, list[StripSeen]] = {}
    for one in strips:
        boxes.setdefault(one.strip.box, []).append(one)
    return [(some[0].paint, _picture(some[0]), some, _plot(some)) for some in boxes.values()]


def _picture(one: StripSeen) -> str:
    last = one.strip.last
    return box_url(last.kept.page_read, last.box, last.photo, large=True) if last.photo else ""


def _plot(some: Sequence[StripSeen]) -> Markup:
    name = some[0].paint.name if some[0].paint else say("light.no_paint")
    return light_plot(name, [(say(f"light.stroke.{one.strip.strength}"), one.strip.looks) for one in some])


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text.strip()) if text.strip() else None
    except ValueError:
        raise BadRequest(say("light.no_day", text=text)) from None


def _number(text: str) -> float | None:
    plain = text.strip().replace(",", ".").replace("−", "-")
    try:
        return float(plain) if plain else None
    except ValueError:
        raise BadRequest(say("light.no_number", text=text)) from None
