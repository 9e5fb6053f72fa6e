"""Which boxes of mixes would teach most, and the sheet to paint them on."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import RedirectResponse, Response

from halfpan.errors import NotLearnt
from halfpan.studio.lay_tin import list_tins
from halfpan.studio.mix_words import mix_in_words
from halfpan.studio.plan_mixes import BoxPlan, plan_mixes
from halfpan.studio.print_plan import print_plan
from halfpan.studio.rule_chart import new_chart_id
from halfpan.web.among import among_tins
from halfpan.web.asked import AskedNow, AskedStudio
from halfpan.web.frame import show
from halfpan.web.pages.mixes import mix_url
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)


@router.get("/mixes/next")
def next_page(request: Request, studio: AskedStudio, boxes: int = 8, among: str = "all") -> Response:
    """Show the boxes worth painting next, most telling first."""
    try:
        found = plan_mixes(studio, boxes=boxes, among=among_tins(studio, among))
    except NotLearnt:
        return RedirectResponse("/mixes", 303)  # which says what to do first
    matter = {
        "plan": found.plan,
        "boxes": _boxes(found),
        "left_out": [found.names.get(paint, paint) for paint in found.left_out],
        "asked": {"boxes": boxes, "among": among},
        "tins": [one.name for one in list_tins(studio) if len(one.paints) > 1],
    }
    return show(request, "next_mixes.html", matter, section="mixes")


@router.post("/mixes/next/print")
def print_next(
    studio: AskedStudio,
    now: AskedNow,
    boxes: Annotated[int, Form()] = 8,
    among: Annotated[str, Form()] = "all",
    sheet: Annotated[str, Form()] = "A4",
) -> Response:
    """Rule the sheet of these boxes, and go to it."""
    found = plan_mixes(studio, boxes=boxes, among=among_tins(studio, among), by_parts=True)
    folder = studio.folder / "charts"
    folder.mkdir(exist_ok=True)
    number = new_chart_id()
    print_plan(studio, found, folder / f"{number}.pdf", sheet=sheet, now=now, new_id=lambda: number)
    return done_at(f"/charts/{number}", studio)


def _boxes(found: BoxPlan) -> list[tuple[str, float, str]]:
    """Return each box in words, the mean radius after it, and where it can be tried."""
    return [
        (
            mix_in_words(wash, found.names),
            after,
            mix_url([paint for paint, _ in wash], [amount for _, amount in wash]),
        )
        for wash, after in zip(found.washes(), found.plan.after_each, strict=True)
    ]
