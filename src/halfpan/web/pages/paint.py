"""One paint: its picture, its path, its three witnesses, its kin; and correcting what is said of it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from halfpan.core.colour.notation import hue_words
from halfpan.core.colour.spaces import lab_to_lch
from halfpan.core.paint.cautions import DEFER, NONE_RECORDED
from halfpan.core.paint.reading import Lab
from halfpan.core.paint.witness import WITNESSES
from halfpan.files.words import say
from halfpan.studio.correct_paint import correct_paint, remove_paint
from halfpan.studio.follow_light_tests import light_tests_of
from halfpan.studio.paint_history import paint_history
from halfpan.studio.see_paint import PaintSeen, see_paint
from halfpan.studio.wish import list_wishes
from halfpan.web.asked import AskedNow, AskedStudio, AskedWall
from halfpan.web.drawing.colour import beyond_screens, fill_of
from halfpan.web.drawing.path_plot import path_plot
from halfpan.web.frame import show
from halfpan.web.pages.light import by_paint
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)
LATEST = 6
"""Changes shown at once; earlier ones are folded away."""


@router.get("/paints/{paint}")
def paint_page(request: Request, paint: str, studio: AskedStudio, wall: AskedWall, now: AskedNow) -> Response:
    """Show all that is known of one paint."""
    seen = see_paint(studio, paint, [one.painted for one in wall])
    matter = {
        "seen": seen,
        "plot": _plot(seen),
        "ladder": [(window, *_figures(window.lab)) for window in seen.windows],
        "witnesses": WITNESSES,
        "in_one_line": _in_one_line(seen),
        "defer": DEFER,
        "none_recorded": NONE_RECORDED,
        "wish": next((one for one in list_wishes(studio) if one.paint.id == seen.paint.id), None)
        if not seen.paint.owned
        else None,
        "light": [(one, by_paint(one.strips)) for one in light_tests_of(studio, seen.paint.id, now=now)],
        "history": paint_history(studio, seen.paint.id),
        "latest": LATEST,
    }
    return show(request, "paint.html", matter, section="paints")


@router.post("/paints/{paint}/notes")
def write_notes(
    paint: str,
    studio: AskedStudio,
    now: AskedNow,
    notes: Annotated[str, Form()] = "",
    tags: Annotated[str, Form()] = "",
) -> Response:
    """Keep what the painter writes about a paint."""
    listed = [tag.strip() for tag in tags.split(",") if tag.strip()]
    kept = correct_paint(studio, paint, now=now, notes=notes.strip(), tags=listed)
    return done_at(f"/paints/{kept.id}", studio)


@router.post("/paints/{paint}/correct")
def correct(  # noqa: PLR0917 (a form sends them by name)
    paint: str,
    studio: AskedStudio,
    now: AskedNow,
    name: Annotated[str, Form()],
    maker: Annotated[str, Form()] = "",
    range_name: Annotated[str, Form(alias="range")] = "",
    codes: Annotated[str, Form()] = "",
) -> Response:
    """Correct name, maker, range or pigments; the label as printed stays."""
    kept = correct_paint(studio, paint, now=now, name=name, maker=maker, range_name=range_name, codes=codes)
    return done_at(f"/paints/{kept.id}", studio)


@router.post("/paints/{paint}/remove")
def remove(paint: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Put a paint away; undo brings it back."""
    remove_paint(studio, paint, now=now)
    return done_at("/paints", studio)


def _plot(seen: PaintSeen) -> str:
    if seen.box is None or len(seen.box.swatch.path) < 2:
        return ""
    others = [(paint.name, path) for paint, path in seen.paths if len(path) > 1]
    return path_plot(seen.paint.name, seen.box.swatch.path, others, seen.box.swatch.within_delta_e00 or 0.0)


def _figures(lab: Lab) -> tuple[float, float, float, str, float]:
    lightness, chroma, hue = lab_to_lch(lab)
    return float(lightness), float(chroma), float(hue), fill_of(lab), beyond_screens(lab)


def _in_one_line(seen: PaintSeen) -> str:
    """Say the colour in words, and the most useful disagreement after it."""
    told = next((one.disagreement for one in seen.statements if one.disagreement), "")
    if seen.box is None or seen.box.swatch.masstone is None:
        return " ".join(filter(None, (say("paint.not_painted"), told)))
    strong, thin = seen.box.swatch.masstone, seen.box.swatch.tint
    colour = say("paint.colour", strong=hue_words(strong).capitalize())
    if thin is not None and hue_words(thin) != hue_words(strong):
        colour = say("paint.colour_thin", strong=hue_words(strong).capitalize(), thin=hue_words(thin))
    return " ".join(filter(None, (colour, told)))
