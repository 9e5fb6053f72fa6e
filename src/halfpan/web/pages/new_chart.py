"""A new chart: its choices, the sheet drawn with every one of them as it will be printed, and ruling it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Form, Query, Request
from pydantic import BaseModel, BeforeValidator
from starlette.responses import HTMLResponse, Response

from halfpan.core.chart.sizes import SIZES_MM
from halfpan.core.chart.trials import TRIALS, Trial
from halfpan.errors import HalfpanError
from halfpan.files.words import say
from halfpan.studio.keep_paper import list_papers
from halfpan.studio.paint_names import names_of
from halfpan.studio.rule_chart import SCALE_FROM, SCALE_TO, ChartWish, Kind, Order, draw_chart, new_chart_id
from halfpan.studio.rule_chart import rule_chart as rule
from halfpan.studio.see_wall import WallPaint
from halfpan.studio.studio import Studio
from halfpan.web.asked import AskedNow, AskedStudio, AskedWall
from halfpan.web.drawing.sheet import sheet_pictures
from halfpan.web.frame import show, templates
from halfpan.web.pages.charts import pdf_of
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)

KINDS = ("swatch", "tests", "mixes")
WHICH = ("unpainted", "all", "chosen")
LINES = ("printed", "hand")
ORDERS = ("proposed", "mine")
MOST_MIXES = 200


class Asked(BaseModel):
    """What a painter chose on the page for a new chart; what its kind has no use for is left alone."""

    kind: Kind = "swatch"
    which: Literal["unpainted", "all", "chosen"] = "unpainted"
    paint: list[str] = []
    trial: list[Trial] = []
    mixes: str = ""
    sheet: str = "A4"
    turn: Literal["", "landscape"] = ""
    title: str = ""
    spare: Annotated[int, BeforeValidator(lambda given: given or 0)] = 0
    scale: Annotated[float | None, BeforeValidator(lambda given: given or None)] = None
    paper: str = ""
    line: Literal["printed", "hand"] = "printed"
    order: Order = "proposed"

    def wish(self, wall: tuple[WallPaint, ...]) -> ChartWish:
        """Return the wish these choices add up to; only paints of the wall can be named."""
        swatches = self.kind == "swatch"
        return ChartWish(
            paints=",".join(self._paints(wall)),
            sheet=f"{self.sheet} {self.turn}".strip(),
            title=self.title.strip()[:60],
            spare=max(0, min(self.spare, 60)) if swatches else 0,
            line=self.line if swatches else "printed",
            order=self.order,
            kind=self.kind,
            trials=tuple(self.trial) if self.kind == "tests" else (),
            mixes=self._mixes() if self.kind == "mixes" else (),
            scale=self.scale,
            paper=self.paper,
        )

    def _paints(self, wall: tuple[WallPaint, ...]) -> list[str]:
        chosen = set(self.paint)
        return [
            one.paint.id
            for one in wall
            if self.which == "all"
            or (self.which == "unpainted" and one.box is None)
            or (self.which == "chosen" and one.paint.id in chosen)
        ]

    def _mixes(self) -> tuple[str, ...]:
        return tuple(line.strip() for line in self.mixes.splitlines() if line.strip())[:MOST_MIXES]


@router.get("/charts/new")
def new_chart(
    request: Request, studio: AskedStudio, wall: AskedWall, asked: Annotated[Asked, Query()]
) -> Response:
    """Offer a new chart, drawn as it stands."""
    matter = {
        "asked": asked,
        "wall": wall,
        "called": names_of([one.paint for one in wall]),
        "kinds": KINDS,
        "which": WHICH,
        "trials": TRIALS,
        "sizes": tuple(SIZES_MM),
        "papers": [one.name for one in list_papers(studio)],
        "lines": LINES,
        "orders": ORDERS,
        "scales": (SCALE_FROM, SCALE_TO),
        **_preview(studio, wall, asked),
    }
    return show(request, "chart_new.html", matter, section="charts")


@router.get("/charts/new/preview")
def preview(studio: AskedStudio, wall: AskedWall, asked: Annotated[Asked, Query()]) -> Response:
    """Draw the sheet for the choices made so far, as a piece of the page."""
    return HTMLResponse(templates().get_template("chart_preview.html").render(_preview(studio, wall, asked)))


@router.post("/charts/new")
def make_chart(
    studio: AskedStudio, now: AskedNow, wall: AskedWall, asked: Annotated[Asked, Form()]
) -> Response:
    """Rule the chart and keep it."""
    chart = new_chart_id()
    pdf = pdf_of(studio, chart)
    pdf.parent.mkdir(exist_ok=True)
    rule(studio, asked.wish(wall), pdf, now=now, new_id=lambda: chart)
    return done_at(f"/charts/{chart}", studio)


def _preview(studio: Studio, wall: tuple[WallPaint, ...], asked: Asked) -> dict[str, Any]:
    """Draw the sheet; where it cannot be drawn, say why in its place."""
    try:
        wish = asked.wish(wall)
        if not (wish.paints or wish.kind == "mixes"):
            return {"pages": [], "trouble": say("charts.nobody"), "boxes": 0}
        with studio.look() as db:
            sheet = draw_chart(db, wish, "PREVIEW")
    except HalfpanError as refusal:
        return {"pages": [], "trouble": str(refusal), "boxes": 0}
    boxes = sum(len(page.boxes) for page in sheet.chart.pages)
    return {"pages": sheet_pictures(sheet), "trouble": "", "boxes": boxes}
