"""What lies in the drawer, and what is wished for."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from halfpan.collection.stock import Item
from halfpan.errors import BadRequest
from halfpan.files.words import say
from halfpan.studio.list_paints import answering
from halfpan.studio.listing.cells import amount_left
from halfpan.studio.stock import StockLine, add_item, list_stock, note_item
from halfpan.studio.wish import drop_wish, list_wishes, wish_by_label
from halfpan.web.asked import AskedNow, AskedStudio, AskedWall
from halfpan.web.frame import show
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)
Word = Annotated[str, Form()]
FORMS = ("tube", "half pan", "full pan", "stick", "bottle")
LEFT = ("full", "half", "low", "empty")
MOST = 200


@router.get("/stock")
def stock_page(
    request: Request, studio: AskedStudio, wall: AskedWall, find: str = "", low: bool = False
) -> Response:
    """List what lies in the drawer, what runs out first, and the wishes below it."""
    lines = list_stock(studio, low=low)
    meant = {one.id for one in answering([line.paint for line in lines], find)}
    lines = sorted((line for line in lines if line.paint.id in meant), key=lambda line: not line.low)
    matter = {
        "lines": [(line, _left_words(line)) for line in lines[:MOST]],
        "more": max(0, len(lines) - MOST),
        "low": sum(line.low for line in lines),
        "asked": {"find": find, "low": low},
        "wishes": list_wishes(studio),
        "paints": [one.paint for one in wall],
        "forms": FORMS,
        "steps": LEFT,
    }
    return show(request, "stock.html", matter, section="stock")


@router.post("/stock/new")
def new(  # noqa: PLR0917 (a form sends them by name)
    studio: AskedStudio,
    now: AskedNow,
    paint: Word,
    form: Word = "tube",
    size: Word = "",
    price: Word = "",
    currency: Word = "",
    place: Word = "",
    left: Word = "full",
) -> Response:
    """Put another tube, pan or stick into the drawer."""
    item = Item(
        form=form.strip(),
        size_ml=_number("size", size),
        price=_number("price", price),
        currency=currency.strip(),
        place=place.strip(),
        amount_left=_share(left),
        bought=now.date(),
    )
    add_item(studio, paint, item, now=now)
    return done_at("/stock", studio)


@router.post("/stock/{item}/note")
def note(  # noqa: PLR0917 (a form sends them by name)
    item: int,
    studio: AskedStudio,
    now: AskedNow,
    left: Word = "",
    place: Word = "",
    hard: Annotated[bool, Form()] = False,
    used: Annotated[bool, Form()] = False,
    gone: Annotated[bool, Form()] = False,
) -> Response:
    """Note what is left of an item, where it is, and what became of it."""
    values: dict[str, Any] = {"place": place.strip(), "hard": hard}
    if left.strip():
        values["amount_left"] = _share(left)
    if used:
        values["last_used"] = now.date()
    if gone:
        values["gone"] = now
    note_item(studio, item, now=now, **values)
    return done_at("/stock", studio)


@router.post("/wishes/new")
def wish(  # noqa: PLR0917 (a form sends them by name)
    studio: AskedStudio,
    now: AskedNow,
    name: Word = "",
    maker: Word = "",
    codes: Word = "",
    why: Word = "",
) -> Response:
    """Wish for a paint."""
    if not name.strip():
        raise BadRequest(say("stock.no_name"))
    wish_by_label(studio, name.strip(), codes, maker=maker.strip(), why=why.strip(), now=now)
    return done_at("/stock", studio)


@router.post("/wishes/{paint}/drop")
def drop(paint: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Take a paint off the wish list."""
    drop_wish(studio, paint, now=now)
    return done_at("/stock", studio)


def _left_words(line: StockLine) -> str:
    if line.left is None:
        return say("stock.left_unknown")
    low, high = (round(share * 100) for share in line.left)
    return say("stock.left_share", share=high) if low == high else say("stock.left_span", low=low, high=high)


def _share(text: str) -> float | None:
    value, problem = amount_left(text)
    if problem is not None:
        raise BadRequest(problem.text)
    return value


def _number(field: str, text: str) -> float | None:
    plain = text.strip().replace(",", ".")
    if not plain:
        return None
    try:
        value = float(plain)
    except ValueError:
        value = -1.0
    if not 0 <= value < 1e6:
        raise BadRequest(say(f"stock.no_{field}", text=text))
    return value
