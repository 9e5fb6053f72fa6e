"""Adding paints: paste or give a list, see how each line is understood, then keep it."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from starlette.responses import RedirectResponse, Response

from halfpan.files.tables import parse_table, table_of
from halfpan.studio.add_paints import add_paints, preview_list
from halfpan.studio.listing.columns import FIELDS
from halfpan.web.asked import AskedNow, AskedPending, AskedStudio
from halfpan.web.frame import show
from halfpan.web.pages.undo import done_at

router = APIRouter(include_in_schema=False)


@router.get("/paints/add")
def ask_list(request: Request) -> Response:
    """Offer the ways to add paints."""
    return show(request, "add_paints.html", {}, section="paints")


@router.post("/paints/list")
def take_list(
    pending: AskedPending,
    text: Annotated[str, Form()] = "",
    file: Annotated[UploadFile | None, File()] = None,
) -> Response:
    """Take a pasted list or a file, and go and look at it."""
    given = file is not None and file.filename
    table = table_of(file.file.read(), file.filename or "") if file and given else parse_table(text)
    return RedirectResponse(f"/paints/list/{pending.keep(table)}", 303)


@router.get("/paints/list/{number}")
def look_at_list(request: Request, number: str, studio: AskedStudio, pending: AskedPending) -> Response:
    """Show how each line of a list is understood."""
    columns, maker, range_name = _choices(request)
    understood = preview_list(
        studio, pending.find(number), columns=columns, maker=maker, range_name=range_name
    )
    matter = {
        "number": number,
        "seen": understood,
        "fields": FIELDS,
        "maker": maker,
        "range": range_name,
        "columns": range(1, 1 + max((len(row.cells) for row in pending.find(number).rows), default=1)),
        "request_query": request.url.query,
    }
    return show(request, "paint_list.html", matter, section="paints")


@router.post("/paints/list/{number}/add")
def add_list(
    request: Request, number: str, studio: AskedStudio, now: AskedNow, pending: AskedPending
) -> Response:
    """Keep the paints of a list."""
    columns, maker, range_name = _choices(request)
    table = pending.find(number)
    add_paints(studio, table, now=now, columns=columns, maker=maker, range_name=range_name)
    return done_at("/paints", studio)


def _choices(request: Request) -> tuple[dict[str, str], str, str]:
    """Return what the painter corrected: which column is what, and the maker and range of a list without."""
    asked = request.query_params
    columns = {field: asked[f"column_{field}"] for field in FIELDS if asked.get(f"column_{field}")}
    return columns, asked.get("maker", ""), asked.get("range", "")
