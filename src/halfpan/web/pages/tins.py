"""Tins: all of them, one with its seats, moving pans, seating, locking, the lid card."""

from __future__ import annotations

import re
from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, Response

from halfpan.core.chart.tin_sheet import CARD
from halfpan.errors import BadLayout, BadRequest
from halfpan.files.words import say, words
from halfpan.studio.follow_tin import draw_lid_card, rule_lid_card, stale_charts
from halfpan.studio.lay_tin import (
    fill_tin,
    list_tins,
    lock_seats,
    move_pan,
    name_side,
    new_tin,
    remove_tin,
    take_out,
)
from halfpan.studio.place_pan import place_pan
from halfpan.studio.rule_chart import new_chart_id
from halfpan.studio.seat_tin import seat_tin
from halfpan.studio.see_tin import TinSeen, see_tin, see_tins
from halfpan.studio.studio import Studio
from halfpan.web.asked import AskedNow, AskedStudio
from halfpan.web.drawing.sheet import card_picture
from halfpan.web.drawing.tin import draw_seats
from halfpan.web.frame import crop_url, show, templates
from halfpan.web.pages.undo import done_at
from halfpan.web.refusals import wants_json

router = APIRouter(include_in_schema=False)
Word = Annotated[str, Form()]
SAID = (
    "lifted", "over", "down", "swapped", "back", "out", "locked", "freed",
    "the_table", "from_seat", "nothing",
)  # fmt: skip


@router.get("/tins")
def tins_page(request: Request, studio: AskedStudio) -> Response:
    """List the tins, each as it lies open."""
    seen = [(one, draw_seats(one, still=True)) for one in see_tins(studio)]
    return show(request, "tins.html", {"seen": seen}, section="tins")


@router.post("/tins/new")
def new(studio: AskedStudio, now: AskedNow, name: Word = "", rows: Word = "", notes: Word = "") -> Response:
    """Lay out a new tin."""
    if not name.strip():
        raise BadRequest(say("tins.no_name"))
    kept = new_tin(studio, name.strip(), _rows(rows), now=now, notes=notes.strip())
    return done_at(f"/tins/{kept.id}", studio)


@router.get("/tins/{tin}")
def tin_page(
    request: Request, tin: str, studio: AskedStudio, before: float = 0.0, step: float = 0.0
) -> Response:
    """Show one tin; after it was seated, how far its neighbours stood apart and stand now."""
    seen = see_tin(studio, tin)
    matter = {
        "seen": seen,
        "drawing": draw_seats(seen),
        "odd": _odd_words(seen),
        "said": {key: words()[f"tins.said.{key}"] for key in SAID},
        "before": f"{before:.1f}",
        "step": f"{step:.1f}" if step else "",
        "stale": stale_charts(studio, seen.tin.name),
        "lid": CARD,
        **_card(studio, seen, CARD, crops=False),
    }
    return show(request, "tin.html", matter, section="tins")


@router.post("/tins/{tin}/move")
def move(  # noqa: PLR0917 (a form sends them by name)
    request: Request, tin: str, studio: AskedStudio, now: AskedNow, start: Word = "", end: Word = ""
) -> Response:
    """Move a pan to another seat; who sat there comes back the other way."""
    kept = move_pan(studio, tin, start, end, now=now)
    return _answer(request, studio, f"/tins/{kept.id}")


@router.post("/tins/{tin}/place")
def place(  # noqa: PLR0917 (a form sends them by name)
    request: Request, tin: str, studio: AskedStudio, now: AskedNow, paint: Word, seat: Word = ""
) -> Response:
    """Put a paint from the table into a seat, the first free one when none is named."""
    kept = place_pan(studio, tin, paint, seat, now=now) if seat else fill_tin(studio, tin, [paint], now=now)
    return _answer(request, studio, f"/tins/{kept.id}")


@router.post("/tins/{tin}/out")
def out(request: Request, tin: str, studio: AskedStudio, now: AskedNow, paint: Word) -> Response:
    """Take a pan out, back to the table."""
    kept = take_out(studio, tin, paint, now=now)
    return _answer(request, studio, f"/tins/{kept.id}")


@router.post("/tins/{tin}/lock")
def lock(  # noqa: PLR0917 (a form sends them by name)
    request: Request,
    tin: str,
    studio: AskedStudio,
    now: AskedNow,
    seat: Word = "",
    locked: Annotated[bool, Form()] = False,
) -> Response:
    """Lock a seat or free it; without a seat, free them all."""
    seats = [seat] if seat else [name for name, one in see_tin(studio, tin).tin.held.items() if one.locked]
    kept = lock_seats(studio, tin, seats, locked=locked, now=now)
    return _answer(request, studio, f"/tins/{kept.id}")


@router.post("/tins/{tin}/seat")
def seat(tin: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Seat all pans that are not locked so that neighbours go together."""
    seated = seat_tin(studio, tin, now=now)
    apart = f"before={seated.step_before:.1f}&step={seated.step:.1f}"
    return done_at(f"/tins/{seated.tin.id}?{apart}", studio)


@router.post("/tins/{tin}/side")
def side(request: Request, tin: str, studio: AskedStudio, now: AskedNow, name: Word = "") -> Response:
    """Name the side that the tin holds."""
    kept = name_side(studio, tin, name.strip()[:60], now=now)
    return _answer(request, studio, f"/tins/{kept.id}")


@router.get("/tins/{tin}/card")
def card_preview(
    tin: str,
    studio: AskedStudio,
    width: Annotated[float, Query(ge=20, le=1000, allow_inf_nan=False)] = CARD[0],
    height: Annotated[float, Query(ge=20, le=1000, allow_inf_nan=False)] = CARD[1],
    crops: bool = False,
) -> Response:
    """Draw the lid card for the size chosen so far, as a piece of the page."""
    matter = _card(studio, see_tin(studio, tin), (width, height), crops=crops)
    return HTMLResponse(templates().get_template("lid_card.html").render(matter))


@router.post("/tins/{tin}/card")
def card(  # noqa: PLR0917 (a form sends them by name)
    tin: str,
    studio: AskedStudio,
    now: AskedNow,
    width: Annotated[float, Form(ge=20, le=1000, allow_inf_nan=False)] = CARD[0],
    height: Annotated[float, Form(ge=20, le=1000, allow_inf_nan=False)] = CARD[1],
    crops: Annotated[bool, Form()] = False,
) -> Response:
    """Rule the lid card at true size and answer with it."""
    folder = studio.folder / "charts"
    folder.mkdir(exist_ok=True)
    number = new_chart_id()
    pdf = folder / f"{number}.pdf"
    rule_lid_card(studio, tin, pdf, now=now, card_mm=(width, height), crops=crops, new_id=lambda: number)
    return FileResponse(pdf, media_type="application/pdf", filename=f"lid-card-{number}.pdf")


@router.post("/tins/{tin}/remove")
def remove(tin: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Take a tin apart; undo brings it back."""
    remove_tin(studio, tin, now=now)
    return done_at("/tins", studio)


def _card(studio: Studio, seen: TinSeen, card_mm: tuple[float, float], *, crops: bool) -> dict[str, object]:
    """Draw the lid card of a tin; where it cannot be drawn, say why in its place."""
    if not seen.tin.paints:
        return {"card": "", "trouble": ""}
    pictures = {paint: crop_url(box) for paint, box in seen.boxes.items()} if crops else {}
    try:
        sheet = draw_lid_card(studio, str(seen.tin.id), card_mm=card_mm, pictured=pictures.keys())
    except BadLayout as refusal:
        return {"card": "", "trouble": str(refusal)}
    label = say("tins.lid_alt", name=seen.tin.name, width=f"{card_mm[0]:g}", height=f"{card_mm[1]:g}")
    return {"card": card_picture(sheet, label, pictures), "trouble": ""}


def _answer(request: Request, studio: Studio, url: str) -> Response:
    """Answer a program with the list of tins' names, a person with the page."""
    if wants_json(request):
        return JSONResponse({"tins": [one.name for one in list_tins(studio)]})
    return done_at(url, studio)


def _rows(text: str) -> list[str]:
    return [row for row in re.split(r"[\s,;/]+", text.strip().lower()) if row]


def _odd_words(seen: TinSeen) -> list[tuple[str, str, str]]:
    """Say what looks odd, with the move that would help most; three at most."""
    told = []
    for one in seen.odd[:3]:
        sentence = say(
            "tins.odd", name=seen.paints[one.paint].name, seat=one.seat, step=f"{one.step:.1f}",
            usual=f"{one.usual:.1f}",
        )  # fmt: skip
        told.append((sentence, one.seat, one.swap_with or ""))
    return told
