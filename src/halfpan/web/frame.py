"""What every page shares: templates, the frame around the matter, and the painter's choice of grey."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any
from urllib.parse import quote

from fastapi import Request
from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.responses import HTMLResponse, Response

from halfpan.collection.changes import Change
from halfpan.collection.swatches import KeptSwatch
from halfpan.files.words import LANGUAGE, say
from halfpan.studio.undo import latest_changes
from halfpan.web.same_site import FIELD, keep_token, token_of
from halfpan.web.static import static_url

SURROUNDS = ("plain", "white", "mid", "dark")
THEMES = ("auto", "light", "dark")
BOXES = ("small", "medium", "large")


@dataclass(frozen=True, slots=True)
class Section:
    """One entry of the navigation: its key in the words and its address."""

    key: str
    url: str


SECTIONS = (
    Section("paints", "/paints"),
    Section("charts", "/charts"),
    Section("mixes", "/mixes"),
    Section("tins", "/tins"),
    Section("light-tests", "/light"),
    Section("stock", "/stock"),
    Section("pigments", "/pigments"),
    Section("papers", "/papers"),
)


@cache
def templates() -> Environment:
    """Return the template environment; a name a template does not know is a bug."""
    environment = Environment(
        loader=PackageLoader("halfpan.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(
        say=say, static=static_url, language=LANGUAGE, token_field=FIELD, crop_url=crop_url
    )
    environment.filters["signed"] = signed
    environment.filters["sentence_case"] = sentence_case
    return environment


def crop_url(box: KeptSwatch, *, large: bool = False) -> str:
    """Return where the picture of a read box is."""
    return box_url(box.page_read, box.swatch.box, box.photo, large=large)


def box_url(page_read: int | None, box: str, photo: str | None, *, large: bool = False) -> str:
    """Return where the picture of a box is; the photo's hash tells one studio's boxes from another's."""
    return f"/crops/{page_read}/{quote(box)}{'/large' if large else ''}.webp?{(photo or '')[:10]}"


def signed(value: float, places: int = 1) -> str:
    """Return a number with a true minus sign."""
    text = f"{value:.{places}f}"
    return text.removeprefix("-") if float(text) == 0 else text.replace("-", "−")


def sentence_case(text: str) -> str:
    """Return a sentence that begins with a capital and keeps all its others."""
    return text[:1].upper() + text[1:]


def choice(request: Request, name: str, among: tuple[str, ...]) -> str:
    """Return what the painter chose before (kept in a cookie), else the first of ``among``."""
    kept = request.cookies.get(f"halfpan_{name}", "")
    return kept if kept in among else among[0]


def here_only(address: str) -> str:
    """Return an address to go back to, if it is one of this page's own; else the home page."""
    return address if address.startswith("/") and not address.startswith(("//", "/\\")) else "/"


def _what_was_done(request: Request) -> Change | None:
    """Return the change named in the address, so that the page can say it and offer its undo."""
    did = request.query_params.get("did", "")
    if not did.isascii() or not did.isdigit():
        return None
    latest = latest_changes(request.app.state.studio, limit=20)
    return next((change for change in latest if change.id == int(did)), None)


def show(
    request: Request, template: str, matter: Mapping[str, Any], *, section: str = "", status: int = 200
) -> Response:
    """Return a page: ``template`` filled with ``matter``, inside the frame.

    Parameters
    ----------
    section
        The key of the section this page belongs to; the black line marks it.
    """
    frame = {
        "token": token_of(request),
        "section": section,
        "sections": SECTIONS,
        "surround": choice(request, "surround", SURROUNDS),
        "theme": choice(request, "theme", THEMES),
        "surrounds": SURROUNDS,
        "themes": THEMES,
        "studio_name": request.app.state.studio_name,
        "read_only": request.app.state.read_only,
        "borrowed": request.app.state.studio is not request.app.state.own_studio,
        "here": request.url.path + (f"?{request.url.query}" if request.url.query else ""),
        "here_plain": request.url.path,
        "done": _what_was_done(request),
    }
    response = HTMLResponse(templates().get_template(template).render(frame | dict(matter)), status)
    keep_token(request, response)
    return response
