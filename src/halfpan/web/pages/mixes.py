"""Mixes: try one and see what was painted of it; the log of what was mixed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, File, Form, Query, Request, UploadFile
from starlette.responses import HTMLResponse, Response

from halfpan.core.colour.notation import hue_words, leans
from halfpan.core.colour.spaces import lab_to_lch
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest, HalfpanError, NotLearnt
from halfpan.files.words import say
from halfpan.studio.keep_paper import measured_papers
from halfpan.studio.match_colour import colour_in_words
from halfpan.studio.mix_log import log_mix, logged_mixes
from halfpan.studio.try_mix import MOST_PAINTS, MixTried, mixable_paints, try_mix
from halfpan.web.asked import AskedNow, AskedStudio
from halfpan.web.drawing.mix_plot import mix_plot
from halfpan.web.drawing.wash import predicted_wash
from halfpan.web.frame import show, templates
from halfpan.web.pages.undo import done_at
from halfpan.web.uploads import forget_uploads, keep_uploads

router = APIRouter(include_in_schema=False)
SHARES = ("", "½", "¼", "⅛", "¹⁄₁₆")
"""The strengths of a ladder, as one writes them."""
PaintsAsked = Annotated[list[str], Query(default_factory=list, alias="paint")]
PartsAsked = Annotated[list[float], Query(default_factory=list, alias="parts")]
Word = Annotated[str, Form()]


@router.get("/mixes")
def mixes_page(
    request: Request, studio: AskedStudio, paint: PaintsAsked, parts: PartsAsked, paper: str = ""
) -> Response:
    """Offer paints and parts, with what they are predicted to give and what was painted of them."""
    try:
        known = mixable_paints(studio)
    except NotLearnt:
        known = []
    wanted = _pairs(paint, parts) or [(one.id, 1.0) for one in known[:2]]
    tried = try_mix(studio, wanted, paper=paper) if known else None
    rows = [*wanted, *[("", 0.0)] * MOST_PAINTS][:MOST_PAINTS]
    matter = {
        "known": known,
        "rows": rows,
        "papers": measured_papers(studio),
        "paper": paper,
        **(_matter(tried, paper) if tried else {"tried": None}),
    }
    return show(request, "mixes.html", matter, section="mixes")


@router.get("/mixes/predicted")
def predicted(studio: AskedStudio, paint: PaintsAsked, parts: PartsAsked, paper: str = "") -> Response:
    """Draw the prediction for the parts chosen so far, as a piece of the page."""
    try:
        matter = {"trouble": "", **_matter(try_mix(studio, _pairs(paint, parts), paper=paper), paper)}
    except HalfpanError as refusal:
        matter = {"trouble": str(refusal), "tried": None}
    return HTMLResponse(templates().get_template("mix_predicted.html").render(matter))


@router.get("/mixes/log")
def log_page(request: Request, studio: AskedStudio, near: str = "", paint: str = "") -> Response:
    """List what was mixed, newest first or nearest to a colour first."""
    lab, trouble = typed_colour(near)
    found, names = logged_mixes(studio, near=lab, paint=paint)
    matter = {"found": found, "names": names, "near": near, "trouble": trouble}
    return show(request, "mix_log.html", matter, section="mixes", status=422 if trouble else 200)


def typed_colour(text: str) -> tuple[Lab | None, str]:
    """Return the colour that was typed, if any, and why it cannot be understood, if it cannot."""
    try:
        return (colour_in_words(text) if text.strip() else None), ""
    except BadRequest as refusal:
        return None, str(refusal)


@router.post("/mixes/log")
def keep_mix(  # noqa: PLR0917 (a form sends them by name)
    studio: AskedStudio,
    now: AskedNow,
    mix: Word = "",
    name: Word = "",
    notes: Word = "",
    colour: Word = "",
    photo: Annotated[UploadFile | None, File()] = None,
) -> Response:
    """Note a mix that was painted."""
    lab = colour_in_words(colour) if colour.strip() else None
    paths = keep_uploads([photo]) if photo is not None and photo.filename else []
    try:
        picture = paths[0] if paths else None
        log_mix(studio, mix, now=now, lab=lab, name=name.strip(), notes=notes.strip(), photo=picture)
    finally:
        forget_uploads(paths)
    return done_at("/mixes/log", studio)


def _pairs(paints: list[str], parts: list[float]) -> list[tuple[str, float]]:
    """Return the paints that were chosen with their parts; a row that is empty or nought is left out."""
    if len(paints) != len(parts):
        raise BadRequest(say("mixes.uneven"))
    return [(paint, amount) for paint, amount in zip(paints, parts, strict=True) if paint and amount > 0]


def _matter(tried: MixTried, paper: str) -> dict[str, object]:
    """Return what the prediction shows; ``paper`` goes on with every ratio that leads on."""
    best = [one.lab for one in tried.ladder]
    first, second = tried.ends
    return {
        "tried": tried,
        "in_words": in_words(tried),
        "rests_on": _rests_on(tried),
        "band": [
            (_end_name(first[0], best[0]), predicted_wash("w-first", first), first[0]),
            (say("mixes.best"), predicted_wash("w-best", best), best[0]),
            (_end_name(second[0], best[0]), predicted_wash("w-second", second), second[0]),
        ],
        "ratios": [
            (one, predicted_wash(f"w-{k}", one.ladder), mix_url(_ids(tried), one.parts, paper))
            for k, one in enumerate(tried.ratios)
        ],
        "steps": [
            (share, one, predicted_wash(f"s-{k}", [one.lab, one.lab]), lab_to_lch(one.lab))
            for k, (share, one) in enumerate(zip(SHARES, tried.ladder, strict=True))
        ],
        "plot": mix_plot(tried),
    }


def mix_url(paints: Sequence[str], parts: Sequence[float], paper: str = "") -> str:
    """Return where a mix is tried."""
    asked = [
        pair
        for one, part in zip(paints, parts, strict=True)
        for pair in (("paint", one), ("parts", f"{part:g}"))
    ]
    return f"/mixes?{urlencode([*asked, *([('paper', paper)] if paper else [])])}"


def _ids(tried: MixTried) -> list[str]:
    return [paint.id for paint in tried.paints]


def in_words(tried: MixTried) -> str:
    """Say a mix and what it should look like, as a painter would."""
    parts = say("mixes.and").join(
        say("mixes.part", 1 if amount == 1 else 2, parts=f"{amount:g}", name=paint.name)
        for paint, amount in zip(tried.paints, tried.parts, strict=True)
    )
    full = tried.ladder[0]
    within = f"{full.within_delta_e00:.1f}"
    return say(
        "mixes.in_words", parts=parts[0].upper() + parts[1:], colour=hue_words(full.lab), within=within
    )


def _end_name(end: tuple[float, ...], best: tuple[float, ...]) -> str:
    """Name one end of the doubt by what tells it from the best guess."""
    leaning = leans(end, best)
    if leaning is not None:
        return leaning.capitalize()
    return say("mixes.lighter") if end[0] > best[0] else say("mixes.darker")


def _rests_on(tried: MixTried) -> str:
    """Say which boxes of these paints were painted, and how near they came."""
    if len(tried.paints) == 1:
        return say("mixes.rests_single")
    if not tried.proofs:
        return say("mixes.rests_nothing")
    told = ", ".join(" : ".join(f"{part:g}" for part in one.parts) for one in tried.proofs[:4])
    apart = ", ".join(f"{one.apart:.1f}" for one in tried.proofs[:4])
    return say("mixes.rests_on", len(tried.proofs), parts=told, apart=apart)
