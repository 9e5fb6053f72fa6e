"""Style, scripts and letters, under an address that changes when any of them does.

All of them share one hash, so that a style sheet can name a font by a relative address,
and a browser may keep everything for ever.
"""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from importlib.resources import files
from mimetypes import guess_type

from starlette.exceptions import HTTPException
from starlette.responses import Response

FOR_EVER = "public, max-age=31536000, immutable"
SERVED = (".css", ".js", ".woff2", ".svg", ".webmanifest")


@cache
def static_files() -> dict[str, bytes]:
    """Return the served files by their path under ``static/``."""
    found: dict[str, bytes] = {}
    for folder in ("css", "js", "fonts", "pictures"):
        place = files("halfpan.web") / "static" / folder
        if place.is_dir():
            for path in place.iterdir():
                if path.name.endswith(SERVED):
                    found[f"{folder}/{path.name}"] = path.read_bytes()
    return found


@cache
def static_hash() -> str:
    """Return the hash of all served files together."""
    total = sha256()
    for path, content in sorted(static_files().items()):
        total.update(path.encode() + b"\0" + content)
    return total.hexdigest()[:12]


def static_url(path: str) -> str:
    """Return the address of a file under ``static/``; a file that is not there is a bug."""
    if path not in static_files():
        raise KeyError(path)
    return f"/static/{static_hash()}/{path}"


def answer_static(path: str) -> Response:
    """Return the answer that carries one static file."""
    content = static_files().get(path)
    if content is None:
        raise HTTPException(404)
    kind = "text/javascript" if path.endswith(".js") else guess_type(path)[0]
    kind = "font/woff2" if path.endswith(".woff2") else kind
    return Response(content, media_type=kind, headers={"cache-control": FOR_EVER})
