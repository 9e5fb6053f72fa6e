"""What was done, and taking it back."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import RedirectResponse, Response

from halfpan.studio.studio import Studio
from halfpan.studio.undo import latest_changes, undo
from halfpan.web.asked import AskedNow, AskedStudio
from halfpan.web.frame import here_only, show

router = APIRouter(include_in_schema=False)


def done_at(url: str, studio: Studio) -> Response:
    """Go to ``url`` and say there what was just done, with its undo."""
    latest = latest_changes(studio, limit=1)
    mark = f"{'&' if '?' in url else '?'}did={latest[0].id}" if latest else ""
    return RedirectResponse(url + mark, 303)


@router.get("/history")
def history(request: Request, studio: AskedStudio) -> Response:
    """List what was done lately."""
    return show(request, "history.html", {"changes": latest_changes(studio, limit=200)})


@router.post("/undo")
def take_back(
    studio: AskedStudio,
    now: AskedNow,
    change: Annotated[int | None, Form()] = None,
    back: Annotated[str, Form()] = "/",
) -> Response:
    """Take one change back, the latest when none is named."""
    undo(studio, change, now=now)
    return done_at(here_only(back), studio)
