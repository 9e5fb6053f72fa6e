"""Style, scripts and letters."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from halfpan.web.static import answer_static

router = APIRouter(include_in_schema=False)


@router.get("/static/{tree}/{path:path}")
def static_file(tree: str, path: str) -> Response:  # noqa: ARG001
    """Answer with one file; the hash of the tree in the address only keeps caches honest."""
    return answer_static(path)
