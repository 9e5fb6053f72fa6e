"""Which paints a question of the page may use: all that are owned, or those of one tin; never a file."""

from __future__ import annotations

from halfpan.errors import BadRequest
from halfpan.files.words import say
from halfpan.studio.lay_tin import list_tins
from halfpan.studio.studio import Studio


def among_tins(studio: Studio, text: str) -> str:
    """Return ``text`` if it is ``all`` or the name of a tin.

    Raises
    ------
    BadRequest
    """
    names = {one.name.casefold() for one in list_tins(studio)}
    if text != "all" and text.strip().casefold() not in names:
        raise BadRequest(say("mixes.no_such_tin", tin=text))
    return text
