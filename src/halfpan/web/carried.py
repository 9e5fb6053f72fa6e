"""Answer with a page to carry away: one file, saved and not shown here."""

from __future__ import annotations

from starlette.responses import Response


def carried(page: str, name: str) -> Response:
    """Return a file for the browser to save; ``name`` holds letters that any disk takes."""
    headers = {"content-disposition": f'attachment; filename="{name}"', "cache-control": "no-store"}
    return Response(page, media_type="text/html; charset=utf-8", headers=headers)
