"""Charts: the list, a new one with its sheet drawn as you choose, one chart with its boxes."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Depends, Form, Query, Request
from starlette.responses import FileResponse, HTMLResponse, Response

from halfpan.core.chart.sizes import SIZES_MM
from halfpan.errors import HalfpanError, UnknownChart
from halfpan.files.words import say
from halfpan.studio.follow_tin import stale_charts
from halfpan.studio.list_charts import list_charts
from halfpan.studio.rule_chart import ChartWish, Order, draw_chart, new_chart_id, rule_chart
from halfpan.studio.see_chart import remove_chart, see_chart
from halfpan.studio.see_wall import WallPaint
from halfpan.studio.studio import Studio
from halfpan.web.asked import AskedNow, AskedStudio, AskedWall
from halfpan.web.drawing.sheet import sheet_pictures
from halfpan.web.frame import show, templates
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)

Which = Literal["unpainted", "all", "chosen"]
Turn = Literal["", "landscape"]
LINES = ("printed", "hand")
ORDERS = ("proposed", "mine")


@dataclass(frozen=True)
class Asked:
    """What a painter chose on the page for a new chart."""

    which: Which = "unpainted"
    paint: list[str] = field(default_factory=list)
    sheet: str = "A4"
    turn: Turn = ""
    title: str = ""
    spare: int = 0
    line: Literal["printed", "hand"] = "printed"
    order: Order = "proposed"

    def wish(self, wall: tuple[WallPaint, ...]) -> ChartWish:
        """Return the wish these choices add up to; only paints of the wall can be named."""
        chosen = set(self.paint)
        ids = [
            one.paint.id
            for one in wall
            if self.which == "all"
            or (self.which == "unpainted" and one.box is None)
            or (self.which == "chosen" and one.paint.id in chosen)
        ]
        return ChartWish(
            paints=",".join(ids),
            sheet=f"{self.sheet} {self.turn}".strip(),
            title=self.title.strip()[:60],
            spare=max(0, min(self.spare, 60)),
            line=self.line,
            order=self.order,
        )


def _from_query(  # noqa: PLR0917 (a form sends them by name)
    which: Which = "unpainted",
    paint: Annotated[list[str] | None, Query()] = None,
    sheet: str = "A4",
    turn: Turn = "",
    title: str = "",
    spare: int = 0,
    line: Literal["printed", "hand"] = "printed",
    order: Order = "proposed",
) -> Asked:
    return Asked(which, paint or [], sheet, turn, title, spare, line, order)


def _from_form(  # noqa: PLR0917 (a form sends them by name)
    which: Annotated[Which, Form()] = "unpainted",
    paint: Annotated[list[str] | None, Form()] = None,
    sheet: Annotated[str, Form()] = "A4",
    turn: Annotated[Turn, Form()] = "",
    title: Annotated[str, Form()] = "",
    spare: Annotated[int, Form()] = 0,
    line: Annotated[Literal["printed", "hand"], Form()] = "printed",
    order: Annotated[Order, Form()] = "proposed",
) -> Asked:
    return Asked(which, paint or [], sheet, turn, title, spare, line, order)


Chosen = Annotated[Asked, Depends(_from_query)]
Posted = Annotated[Asked, Depends(_from_form)]


@router.get("/charts")
def charts_page(request: Request, studio: AskedStudio, wall: AskedWall) -> Response:
    """List the charts with their state."""
    unpainted = sum(one.box is None for one in wall)
    return show(
        request,
        "charts.html",
        {
            "charts": list_charts(studio),
            "moved": {one.chart: len(one.moved) for one in stale_charts(studio)},
            "unpainted": unpainted,
            "paints": len(wall),
        },
        section="charts",
    )


@router.get("/charts/new")
def new_chart(request: Request, studio: AskedStudio, wall: AskedWall, asked: Chosen) -> Response:
    """Offer a new chart, drawn as it stands."""
    matter = {
        "asked": asked,
        "wall": wall,
        "sizes": tuple(SIZES_MM),
        "lines": LINES,
        "orders": ORDERS,
        **_preview(studio, wall, asked),
    }
    return show(request, "chart_new.html", matter, section="charts")


@router.get("/charts/new/preview")
def preview(studio: AskedStudio, wall: AskedWall, asked: Chosen) -> Response:
    """Draw the sheet for the choices made so far, as a piece of the page."""
    return HTMLResponse(templates().get_template("chart_preview.html").render(_preview(studio, wall, asked)))


@router.post("/charts/new")
def make_chart(studio: AskedStudio, now: AskedNow, wall: AskedWall, asked: Posted) -> Response:
    """Rule the chart and keep it."""
    chart = new_chart_id()
    pdf = _pdf_of(studio, chart)
    pdf.parent.mkdir(exist_ok=True)
    rule_chart(studio, asked.wish(wall), pdf, now=now, new_id=lambda: chart)
    return done_at(f"/charts/{chart}", studio)


@router.get("/charts/{chart}.pdf")
def chart_pdf(chart: str, studio: AskedStudio) -> Response:
    """Answer with the sheet to print."""
    kept = see_chart(studio, chart).kept.chart.chart
    path = _pdf_of(studio, kept)
    if not path.exists():
        raise UnknownChart(say("charts.no_pdf", chart=kept))
    return FileResponse(path, media_type="application/pdf", filename=f"chart-{kept}.pdf")


@router.get("/charts/{chart}")
def chart_page(request: Request, chart: str, studio: AskedStudio) -> Response:
    """Show one chart: what to do next, and its boxes."""
    seen = see_chart(studio, chart)
    printable = _pdf_of(studio, seen.kept.chart.chart).exists()
    return show(request, "chart.html", {"seen": seen, "printable": printable}, section="charts")


@router.post("/charts/{chart}/remove")
def remove(chart: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Put a chart away; its readings stay, and undo brings it back."""
    remove_chart(studio, chart, now=now)
    return done_at("/charts", studio)


def _pdf_of(studio: Studio, chart: str) -> Path:
    return studio.folder / "charts" / f"{chart}.pdf"


def _preview(studio: Studio, wall: tuple[WallPaint, ...], asked: Asked) -> dict[str, Any]:
    """Draw the sheet; where it cannot be drawn, say why in its place."""
    try:
        wish = asked.wish(wall)
        if not wish.paints:
            return {"pages": [], "trouble": say("charts.nobody"), "boxes": 0}
        with studio.look() as db:
            sheet = draw_chart(db, wish, "PREVIEW")
    except HalfpanError as refusal:
        return {"pages": [], "trouble": str(refusal), "boxes": 0}
    boxes = sum(len(page.boxes) for page in sheet.chart.pages)
    return {"pages": sheet_pictures(sheet), "trouble": "", "boxes": boxes}
