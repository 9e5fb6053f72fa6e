"""The frame of a page to carry: style, letters and script inside, all else forbidden by its own policy."""

from __future__ import annotations

from base64 import b64encode
from hashlib import sha256
from html import escape
from importlib.resources import files

import halfpan
from halfpan.files.report.html import MARK, letters


def carried_html(title: str, body: str, *, script: str, made: str, marks: str = "") -> str:
    """Return a whole page.

    Parameters
    ----------
    title : what the browser calls it
    body : its matter, as HTML
    script : the packaged script it runs, the only one its policy lets run
    made : when and of what it was made, for its foot
    marks : further attributes of its body, as HTML
    """
    code = _packaged(script)
    only = f"'sha256-{b64encode(sha256(code.encode()).digest()).decode()}'"
    policy = (
        f"default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; script-src {only}"
    )
    return (
        '<!doctype html>\n<html lang="en-GB"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{escape(title)} · Halfpan</title><style>{letters()}{_packaged('carried.css')}</style></head>"
        f'<body{marks}><header class="top">{MARK}Halfpan</header><main>{body}</main>'
        f"<footer><p>{escape(made)}</p><p>Made by Halfpan {escape(halfpan.__version__)}. "
        "Screen colours are approximate.</p></footer>"
        f"<script>{code}</script></body></html>\n"
    )


def _packaged(name: str) -> str:
    return files("halfpan.files.carried").joinpath(name).read_text(encoding="utf-8")
