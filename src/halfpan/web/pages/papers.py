"""Papers: each its own white, weight and surface."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from halfpan.collection.papers import Paper
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest
from halfpan.files.words import say
from halfpan.studio.keep_paper import add_paper, list_papers, set_white
from halfpan.studio.match_colour import colour_in_words
from halfpan.web.asked import AskedNow, AskedStudio
from halfpan.web.frame import show
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)
Word = Annotated[str, Form()]
SURFACES = ("hot pressed", "cold pressed", "rough")


@router.get("/papers")
def papers_page(request: Request, studio: AskedStudio) -> Response:
    """List the papers."""
    matter = {"papers": list_papers(studio), "surfaces": SURFACES}
    return show(request, "papers.html", matter, section="papers")


@router.post("/papers/new")
def new(  # noqa: PLR0917 (a form sends them by name)
    studio: AskedStudio,
    now: AskedNow,
    name: Word = "",
    maker: Word = "",
    surface: Word = "",
    weight: Word = "",
    white: Word = "",
    notes: Word = "",
) -> Response:
    """Keep a paper."""
    if not name.strip():
        raise BadRequest(say("papers.no_name"))
    paper = Paper(
        name.strip(),
        maker=maker.strip(),
        surface=surface.strip(),
        weight_gsm=_weight(weight),
        lab=_white(white),
        notes=notes.strip(),
    )
    add_paper(studio, paper, now=now)
    return done_at("/papers", studio)


@router.post("/papers/{paper}/white")
def measured(paper: str, studio: AskedStudio, now: AskedNow, white: Word = "") -> Response:
    """Note the measured white of a paper."""
    lab = _white(white)
    if lab is None:
        raise BadRequest(say("papers.no_white"))
    set_white(studio, paper, lab, now=now)
    return done_at("/papers", studio)


def _white(text: str) -> Lab | None:
    return colour_in_words(text) if text.strip() else None


def _weight(text: str) -> float | None:
    plain = text.strip().replace(",", ".")
    if not plain:
        return None
    try:
        weight = float(plain)
    except ValueError:
        weight = 0.0
    if not 0 < weight < 5000:
        raise BadRequest(say("papers.no_weight", weight=text))
    return weight
