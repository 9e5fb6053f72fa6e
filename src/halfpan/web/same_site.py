"""The same-site token: what a change must carry besides coming from the right place.

A random value in a cookie that scripts cannot read and other sites are not sent (HttpOnly, SameSite=Strict),
and the same value in the forms and in a header. Only a page that was served here knows both. It outlives a
restart of the program, so a form that was left open over night still works.
"""

from __future__ import annotations

import secrets

from fastapi import Request
from starlette.responses import Response

from halfpan.errors import BadRequest
from halfpan.files.words import say
from halfpan.web.guard import UNCHANGING

COOKIE = "halfpan_token"
FIELD = "token"
HEADER = "x-halfpan-token"
YEAR = 365 * 24 * 3600


class ForeignChange(BadRequest):
    """A change that does not carry the token of our own page."""


def token_of(request: Request) -> str:
    """Return this browser's token, a fresh one on its first visit."""
    if not hasattr(request.state, "token"):
        kept = request.cookies.get(COOKIE, "")
        request.state.token = kept if len(kept) >= 32 else secrets.token_urlsafe(32)
    return str(request.state.token)


def keep_token(request: Request, response: Response) -> None:
    """Send the token to be kept by the browser, if it has none yet."""
    token = token_of(request)
    if request.cookies.get(COOKIE) != token:
        response.set_cookie(COOKIE, token, max_age=YEAR, httponly=True, samesite="strict")


async def require_token(request: Request) -> None:
    """Refuse a change without the token; every route of the page depends on this."""
    if request.method in UNCHANGING:
        return
    kept = request.cookies.get(COOKIE, "")
    given = request.headers.get(HEADER)
    if given is None and "form" in request.headers.get("content-type", ""):
        field = (await request.form()).get(FIELD)
        given = field if isinstance(field, str) else None
    if len(kept) < 32 or not secrets.compare_digest(kept.encode(), (given or "").encode()):
        raise ForeignChange(say("guard.token"))
