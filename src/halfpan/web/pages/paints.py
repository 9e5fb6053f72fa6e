"""The paints: wall or table, narrowed and sorted; the tray; the painter's own order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from markupsafe import Markup
from starlette.responses import RedirectResponse, Response

from halfpan.core.paint.witness import WITNESSES, Witness
from halfpan.files.words import say
from halfpan.studio.arrange_paints import move_paint
from halfpan.studio.see_wall import (
    ORDERINGS,
    QUALITIES,
    Narrowed,
    Quality,
    Sorting,
    WallPaint,
    in_families,
    narrow_wall,
    sort_wall,
)
from halfpan.web.asked import AskedNow, AskedStudio, AskedWall
from halfpan.web.frame import BOXES, choice, show, templates
from halfpan.web.walls import Walls

router = APIRouter()
VIEWS = ("wall", "table")
Only = Annotated[list[Quality], Query(default_factory=list)]


@router.get("/paints", include_in_schema=False)
def paints_page(  # noqa: PLR0917 (a browser sends them by name)
    request: Request,
    wall: AskedWall,
    studio: AskedStudio,
    only: Only,
    find: str = "",
    by: Witness = "proof",
    sort: Sorting = "families",
    view: str = "",
) -> Response:
    """Show the paints that answer to what is asked."""
    if not wall:
        return RedirectResponse("/", 303)
    narrowed = narrow_wall(wall, words=find, only=frozenset(only), by=by)
    view = view if view in VIEWS else "wall"

    walls: Walls = request.app.state.walls

    def draw() -> str:
        shown = sort_wall(studio, narrowed.shown, sort)
        groups = in_families(shown) if sort == "families" else [(None, shown)]
        boxes = draw_each(walls, view, shown)
        drawn = [
            (family, [boxes[one.paint.id] for one in some], sum(one.box is None for one in some))
            for family, some in groups
        ]
        return templates().get_template(f"paints_{view}.html").render(groups=drawn)

    asked = (view, sort, find, tuple(sorted(only)), by)
    matter = {
        "total": len(wall),
        "waiting": sum(one.box is None for one in wall),
        "doubtful": sum(one.doubtful for one in wall),
        "makers": len({one.paint.maker for one in wall}),
        "narrowed": narrowed,
        "boxes_drawn": walls.drawn(wall, asked, draw),
        "says": count_words(narrowed, len(wall)),
        "clash": clash_words(narrowed, only, find),
        "asked": {"find": find, "only": only, "by": by, "sort": sort},
        "view": view,
        "boxes": choice(request, "boxes", ("medium", "small", "large")),
        "all_boxes": BOXES,
        "views": VIEWS,
        "qualities": QUALITIES,
        "witnesses": WITNESSES,
        "orderings": ORDERINGS,
    }
    return show(request, "paints.html", matter, section="paints")


def draw_each(walls: Walls, view: str, some: Sequence[WallPaint]) -> dict[str, Markup]:
    """Draw the place of each of some paints, on the wall or in the table; return them by their id."""
    macro = getattr(templates().get_template("paints_boxes.html").module, view)
    unpainted, to_review = say("paints.unpainted"), say("paints.to_review")
    return walls.each(view, some, lambda one: macro(one, unpainted, to_review))


@router.get("/api/paints/narrow", tags=["paints"])
def narrow(wall: AskedWall, only: Only, find: str = "", by: Witness = "proof") -> dict[str, Any]:
    """Say which paints answer to words and qualities, and how many each further quality would leave."""
    narrowed = narrow_wall(wall, words=find, only=frozenset(only), by=by)
    return {
        "paints": [one.paint.id for one in narrowed.shown],
        "counts": narrowed.counts,
        "says": count_words(narrowed, len(wall)),
        "clash": clash_words(narrowed, only, find),
    }


def count_words(narrowed: Narrowed, total: int) -> str:
    """Say how many of the paints are shown; nothing when all of them are."""
    few = len(narrowed.shown)
    return "" if few == total else say("paints.some", few, total=f"{total:,}")


def clash_words(narrowed: Narrowed, only: Iterable[Quality], find: str) -> str:
    """Say what clashes when nothing is left, and the nearest miss."""
    if narrowed.shown:
        return ""
    wanted = [say(f"paints.quality.{quality}") for quality in only]
    wanted += [say("paints.called", words=find)] if find else []
    sentence = say("paints.clash", wanted=say("paints.and").join(wanted))
    if narrowed.nearest:
        quality, count = narrowed.nearest
        sentence += " " + say("paints.nearest", count, quality=say(f"paints.quality.{quality}"))
    return sentence


@router.post("/paints/order", include_in_schema=False)
def move(
    wall: AskedWall,
    studio: AskedStudio,
    now: AskedNow,
    paint: Annotated[str, Form()],
    before: Annotated[str, Form()] = "",
) -> dict[str, Any]:
    """Put one paint before another in the painter's own order."""
    return {"paints": move_paint(studio, wall, paint, before, now=now)}


@router.get("/compare", include_in_schema=False)
def compare(
    request: Request, wall: AskedWall, paint: Annotated[list[str], Query(default_factory=list)]
) -> Response:
    """Lay two to six paints side by side on one grey."""
    by_id = {one.paint.id: one for one in wall}
    chosen = [by_id[one] for one in dict.fromkeys(paint) if one in by_id][:6]
    return show(request, "compare.html", {"chosen": chosen, "witnesses": WITNESSES}, section="paints")
