"""Charts: the list with what each still needs, and one chart with its boxes."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.responses import FileResponse, Response

from halfpan.errors import UnknownChart
from halfpan.files.words import say
from halfpan.studio.follow_charts import ChartFollowed, follow_charts
from halfpan.studio.see_chart import remove_chart, see_chart
from halfpan.studio.studio import Studio
from halfpan.web.asked import AskedNow, AskedStudio, AskedWall
from halfpan.web.frame import show
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)
NAMED = 5
"""Paints named in a sentence; of more it says how many."""


@router.get("/charts")
def charts_page(request: Request, studio: AskedStudio, wall: AskedWall) -> Response:
    """List the charts with their state."""
    matter = {
        "charts": [(one, out_of_date(one), sheet_of_newcomers(one)) for one in follow_charts(studio)],
        "unpainted": sum(one.box is None for one in wall),
        "paints": len(wall),
    }
    return show(request, "charts.html", matter, section="charts")


@router.get("/charts/{chart}.pdf")
def chart_pdf(chart: str, studio: AskedStudio) -> Response:
    """Answer with the sheet to print."""
    kept = see_chart(studio, chart).kept.chart.chart
    path = pdf_of(studio, kept)
    if not path.exists():
        raise UnknownChart(say("charts.no_pdf", chart=kept))
    return FileResponse(path, media_type="application/pdf", filename=f"chart-{kept}.pdf")


@router.get("/charts/{chart}")
def chart_page(request: Request, chart: str, studio: AskedStudio) -> Response:
    """Show one chart: what to do next, and its boxes."""
    seen = see_chart(studio, chart)
    number = seen.kept.chart.chart
    followed = next(one for one in follow_charts(studio) if one.state.chart == number)
    matter = {
        "seen": seen,
        "printable": pdf_of(studio, number).exists(),
        "out_of_date": out_of_date(followed),
        "newcomers": sheet_of_newcomers(followed),
    }
    return show(request, "chart.html", matter, section="charts")


@router.post("/charts/{chart}/remove")
def remove(chart: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Put a chart away; its readings stay, and undo brings it back."""
    remove_chart(studio, chart, now=now)
    return done_at("/charts", studio)


def pdf_of(studio: Studio, chart: str) -> Path:
    """Return where the print of a chart lies."""
    return studio.folder / "charts" / f"{chart}.pdf"


def out_of_date(one: ChartFollowed) -> list[str]:
    """Say what came or changed since a chart was printed, and the smallest repaint last."""
    told = []
    if one.newcomers:
        names = [paint.name for paint in one.newcomers]
        told.append(say("charts.came", len(names), names=_listed(names)))
    if one.moved:
        told.append(say("charts.moved", len(one.moved), boxes=_listed([each.box for each in one.moved], 12)))
    if one.again:
        told.append(say("charts.again", len(one.again), boxes=_listed(one.again, 12)))
    for each in one.changed[:NAMED]:
        printed = each.printed.split(" · ")[0]
        key = "charts.renamed" if each.now and each.now.name != printed else "charts.relabelled"
        told.append(
            say(key, box=each.box, printed=printed, name=each.now.name)
            if each.now
            else say("charts.left", box=each.box, printed=printed)
        )
    if len(one.changed) > NAMED:
        told.append(say("charts.more_labels", len(one.changed) - NAMED))
    return [*told, _smallest(one)] if told else []


def _smallest(one: ChartFollowed) -> str:
    """Say the fewest boxes that bring a chart up to date."""
    parts = []
    if one.anew:
        parts.append(say("charts.paint_boxes", len(one.anew), boxes=_listed(one.anew, 12)))
    if one.housed:
        housed = [say("charts.in_box", name=paint.name, box=box) for paint, box in one.housed]
        parts.append(_listed(housed))
    if one.elsewhere:
        parts.append(say("charts.own_sheet", len(one.elsewhere)))
    smallest = say("charts.smallest", boxes=say("charts.and").join(parts) or say("charts.no_box"))
    if one.in_place > 1:
        smallest += " " + say("charts.in_place", one.in_place)
    return smallest


def _listed(names: list[str] | tuple[str, ...], most: int = NAMED) -> str:
    shown = ", ".join(names[:most])
    return say("charts.and_more", names=shown, more=len(names) - most) if len(names) > most else shown


def sheet_of_newcomers(one: ChartFollowed) -> str:
    """Return where a sheet of the paints that find no spare box is made; nothing when all do."""
    if not one.elsewhere:
        return ""
    asked = [("which", "chosen"), *(("paint", paint.id) for paint in one.elsewhere)]
    return f"/charts/new?{urlencode(asked)}"
