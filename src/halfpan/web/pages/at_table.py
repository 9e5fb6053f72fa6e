"""At the table: one box at a time beside the paper, large and calm; and the same for a phone on its own."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, Request
from starlette.responses import RedirectResponse, Response

from halfpan.core.chart.step import Step
from halfpan.core.paint.cautions import DEFER, NONE_RECORDED
from halfpan.files.carried import how_to
from halfpan.studio.paint_boxes import AtTable, lay_out, take_ticks, tick_box
from halfpan.web.asked import AskedNow, AskedStudio
from halfpan.web.frame import show
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)


@router.get("/charts/{chart}/table")
def next_box(request: Request, chart: str, studio: AskedStudio) -> Response:
    """Go on where the painting was left."""
    at_table = lay_out(studio, chart)
    return _page(request, at_table, at_table.next)


@router.post("/charts/{chart}/table")
def bring_back(
    chart: str, studio: AskedStudio, now: AskedNow, notes: Annotated[str, Form(max_length=400_000)] = ""
) -> Response:
    """Take over what was ticked on a phone without a connection."""
    take_ticks(studio, chart, notes, now=now)
    return done_at(f"/charts/{chart}/table", studio)


@router.get("/charts/{chart}/table/{page}/{box}")
def one_box(request: Request, chart: str, page: int, box: str, studio: AskedStudio) -> Response:
    """Show one box."""
    at_table = lay_out(studio, chart)
    return _page(request, at_table, at_table.step(page, box))


@router.post("/charts/{chart}/table/{page}/{box}")
def tick(  # noqa: PLR0917 (a form sends them by name)
    chart: str,
    page: int,
    box: str,
    studio: AskedStudio,
    now: AskedNow,
    do: Annotated[str, Form()] = "keep",
    note: Annotated[str, Form()] = "",
) -> Response:
    """Tick a box and go on to the next; or take the tick back; or keep only the line."""
    before = lay_out(studio, chart).step(page, box)
    painted = {"tick": True, "untick": False}.get(do, before.painted)
    at_table = tick_box(studio, chart, page, box, painted=painted, note=note, now=now)
    here = at_table.step(page, box)
    return RedirectResponse(box_url(chart, at_table.after(here) if do == "tick" else here), 303)


def box_url(chart: str, step: Step | None) -> str:
    """Return where a box is painted; where the whole chart is, when there is none."""
    where = f"/{step.page}/{quote(step.box)}" if step else ""
    return f"/charts/{quote(chart)}/table{where}"


def _page(request: Request, at_table: AtTable, step: Step | None) -> Response:
    at = at_table.steps.index(step) if step else None
    matter = {
        "seen": at_table,
        "chart": at_table.kept.chart.chart,
        "step": step,
        "how": how_to(at_table.kept.chart.kind, step.test if step else ""),
        "before": at_table.steps[at - 1] if at else None,
        "after": at_table.steps[at + 1] if at is not None and at + 1 < len(at_table.steps) else None,
        "box_url": box_url,
        "defer": DEFER,
        "none_recorded": NONE_RECORDED,
    }
    return show(request, "at_table.html", matter, section="charts")
