"""Pigments: what is published about each, how sure it is, and the paints that contain it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfpan.core.paint.cautions import DEFER
from halfpan.core.paint.index import GROUPS, Fact, Pigment
from halfpan.studio.show_pigment import PigmentShown, list_pigments, show_pigment
from halfpan.web.asked import AskedStudio, AskedWall
from halfpan.web.frame import show

router = APIRouter(include_in_schema=False)
WHICH = ("mine", "all")


@router.get("/pigments")
def pigments_page(request: Request, studio: AskedStudio, which: str = "mine", find: str = "") -> Response:
    """List the pigments of one's own paints, or of the whole index."""
    which = which if which in WHICH else "mine"
    found = [one for one in list_pigments(studio, owned=which == "mine") if _answers(one[0], one[1], find)]
    unknown = [one for one in found if one[1] is None]
    groups = [(group, [one for one in found if one[1] and one[1].group == group]) for group in GROUPS]
    matter = {
        "groups": [(group, some) for group, some in groups if some],
        "unknown": unknown,
        "count": len(found),
        "asked": {"which": which, "find": find},
        "choices": WHICH,
    }
    return show(request, "pigments.html", matter, section="pigments")


@router.get("/pigments/{code}")
def pigment_page(request: Request, code: str, studio: AskedStudio, wall: AskedWall) -> Response:
    """Show one pigment, each fact with its certainty and source."""
    shown = show_pigment(studio, code)
    boxes = {one.paint.id: one.box for one in wall}
    matter = {"shown": shown, "boxes": boxes, "facts": _facts(shown), "defer": DEFER}
    return show(request, "pigment.html", matter, section="pigments")


def _answers(code: str, known: Pigment | None, find: str) -> bool:
    told = f"{code} {known.name} {known.chemistry}" if known else code
    return all(word in told.casefold() for word in find.casefold().split())


def _facts(shown: PigmentShown) -> list[tuple[str, Fact]]:
    known = shown.pigment
    if known is None:
        return []
    told = (
        ("origin", known.origin),
        ("astm", known.astm),
        ("astm_means", shown.astm_means),
        ("other_light", known.other_light),
        ("light", known.light),
        ("transparency", known.transparency),
        ("granulation", known.granulation),
        ("staining", known.staining),
    )
    return [(what, fact) for what, fact in told if fact is not None]
