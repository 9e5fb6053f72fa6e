"""The frame of a page to carry: style, letters and script inside, all else forbidden by its own policy."""

from __future__ import annotations

import json
from base64 import b64encode
from hashlib import sha256
from html import escape
from importlib.resources import files

import halfpan
from halfpan.files.report.html import MARK, letters
from halfpan.files.words import LANGUAGE, say, sentences


def carried_html(title: str, body: str, *, script: str, words: str, made: str, marks: str = "") -> str:
    """Return a whole page.

    Parameters
    ----------
    title : what the browser calls it
    body : its matter, as HTML
    script : the packaged script it runs, the only one its policy lets run
    words : which sentences that script says; they go with the page
    made : when and of what it was made, for its foot
    marks : further attributes of its body, as HTML
    """
    code = _packaged(script)
    foot = say("carried.foot", version=halfpan.__version__)
    only = f"'sha256-{b64encode(sha256(code.encode()).digest()).decode()}'"
    policy = (
        f"default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; script-src {only}"
    )
    return (
        f'<!doctype html>\n<html lang="{LANGUAGE}"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{escape(title)} · Halfpan</title><style>{letters()}{_packaged('carried.css')}</style></head>"
        f'<body{marks} data-words="{escape(json.dumps(sentences(words), ensure_ascii=False))}">'
        f'<header class="top">{MARK}{escape(say("frame.name"))}</header><main>{body}</main>'
        f"<footer><p>{escape(made)}</p><p>{escape(foot)}</p></footer>"
        f"<script>{code}</script></body></html>\n"
    )


def _packaged(name: str) -> str:
    return files("halfpan.files.carried").joinpath(name).read_text(encoding="utf-8")
