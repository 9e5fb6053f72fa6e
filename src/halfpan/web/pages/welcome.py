"""The first visit: an empty wall and three ways to fill it. Later visits go straight to the paints."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfpan.web.asked import AskedWall
from halfpan.web.frame import show

router = APIRouter(include_in_schema=False)


@router.get("/")
def home(request: Request, wall: AskedWall) -> Response:
    """Welcome a new painter, or show the paints."""
    if wall:
        return RedirectResponse("/paints", 303)
    return show(request, "welcome.html", {"demo": not request.app.state.read_only}, section="paints")
