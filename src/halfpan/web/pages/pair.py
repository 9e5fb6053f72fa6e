"""The page that asks a phone or tablet for the code on the painter's screen."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import RedirectResponse, Response

from halfpan.errors import BadRequest
from halfpan.web.frame import show
from halfpan.web.pairing import COOKIE

router = APIRouter(include_in_schema=False)


@router.get("/pair")
def ask_code(request: Request) -> Response:
    """Ask for the code."""
    return show(request, "pair.html", {"wrong": ""})


@router.post("/pair")
def take_code(request: Request, code: Annotated[str, Form()] = "") -> Response:
    """Let the device in that typed the right code."""
    if request.app.state.pairing is None:
        return RedirectResponse("/", 303)
    try:
        cookie = request.app.state.pairing.pair(code)
    except BadRequest as refusal:
        return show(request, "pair.html", {"wrong": str(refusal)}, status=403)
    response = RedirectResponse("/", 303)
    response.set_cookie(COOKIE, cookie, httponly=True, samesite="strict")
    return response
