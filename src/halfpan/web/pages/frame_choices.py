"""How the painter likes the page: grey of the surround, light or dark, size of the boxes."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form
from starlette.responses import RedirectResponse, Response

from halfpan.web.frame import BOXES, SURROUNDS, THEMES, here_only
from halfpan.web.same_site import YEAR

router = APIRouter(include_in_schema=False)
CHOICES = {"surround": SURROUNDS, "theme": THEMES, "boxes": BOXES}


@router.post("/choose")
def choose(
    back: Annotated[str, Form()] = "/",
    surround: Annotated[str, Form()] = "",
    theme: Annotated[str, Form()] = "",
    boxes: Annotated[str, Form()] = "",
) -> Response:
    """Keep a choice in this browser and go back to where it was made."""
    response = RedirectResponse(here_only(back), 303)
    for name, value in (("surround", surround), ("theme", theme), ("boxes", boxes)):
        if value in CHOICES[name]:
            response.set_cookie(f"halfpan_{name}", value, max_age=YEAR, samesite="lax")
    return response
