"""A refusal becomes an answer here and nowhere else. A bug is not caught."""

from __future__ import annotations

from urllib.parse import urlsplit

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response

from halfpan import errors
from halfpan.files.words import say
from halfpan.web.frame import here_only, show
from halfpan.web.same_site import ForeignChange

STATUS: dict[type[errors.HalfpanError], int] = {
    ForeignChange: 403,
    errors.UnknownPaint: 404,
    errors.UnknownChart: 404,
    errors.UnreadablePhoto: 422,
    errors.UnreadableTable: 422,
    errors.BadLayout: 422,
    errors.BadRequest: 422,
    errors.NotLearnt: 409,
    errors.StudioTrouble: 503,
}


def status_of(error: errors.HalfpanError) -> int:
    """Return the status of a refusal: that of its nearest class, 400 for a new kind."""
    return next((STATUS[kind] for kind in type(error).__mro__ if kind in STATUS), 400)


def answer_refusals(app: FastAPI) -> None:
    """Teach the app to answer refusals as a page, or as JSON to a program."""

    async def refused(request: Request, error: Exception) -> Response:
        assert isinstance(error, errors.HalfpanError)
        return _answer(request, status_of(error), str(error))

    async def missing(request: Request, error: Exception) -> Response:
        assert isinstance(error, HTTPException)
        words = say("refusals.not_found") if error.status_code == 404 else str(error.detail)
        return _answer(request, error.status_code, words)

    async def misread(request: Request, error: Exception) -> Response:
        assert isinstance(error, RequestValidationError)
        first = error.errors()[0]
        field = str(first["loc"][-1]) if first["loc"] else ""
        return _answer(request, 422, say("refusals.value", field=field, reason=first["msg"]))

    app.add_exception_handler(errors.HalfpanError, refused)
    app.add_exception_handler(HTTPException, missing)
    app.add_exception_handler(RequestValidationError, misread)


def wants_json(request: Request) -> bool:
    """Say whether a program asks, not a person."""
    return request.url.path.startswith("/api/") or "application/json" in request.headers.get("accept", "")


def _answer(request: Request, status: int, words: str) -> Response:
    if wants_json(request):
        return JSONResponse({"refused": words}, status)
    matter = {
        "words": words,
        "status": status,
        "back": _where_from(request),
        "asked_change": request.method not in {"GET", "HEAD"},
    }
    return show(request, "refused.html", matter, status=status)


def _where_from(request: Request) -> str:
    """Return the page of ours that a person came from; nothing when it is unknown, or this one again."""
    came = urlsplit(request.headers.get("referer", ""))
    if came.netloc != request.url.netloc or came.path in {"", request.url.path}:
        return ""
    return here_only(came.path + (f"?{came.query}" if came.query else ""))
