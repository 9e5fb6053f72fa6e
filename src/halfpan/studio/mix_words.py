"""Recipes as painters write them: "3 Scarlet + 1 Ultramarine", "Rose over Yellow"."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from halfpan.core.mixing.observation import Wash, wash_of
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest

_PART = re.compile(
    r"^(?P<parts>\d+(?:[.,]\d+)?)\s*(?:parts?\s+(?:of\s+)?|x\s+|\s)(?P<paint>.+)$", re.IGNORECASE
)


def parts_in_words(text: str, named: Callable[[str], Paint]) -> Wash:
    """Return the parts of a mix written as ``3 PAINT + 1 PAINT``; a paint without number is one part.

    Raises
    ------
    BadRequest, UnknownPaint
    """
    pieces = [piece.strip() for piece in re.split(r"\s\+\s", text) if piece.strip()]
    if not pieces:
        raise BadRequest("A mix is written like “3 Scarlet + 1 Ultramarine”; nothing was given.")
    wash = wash_of(*(_part(piece, named) for piece in pieces))
    if not wash:
        raise BadRequest(f"All parts of “{text}” are nought; give at least one paint some.")
    return wash


def _part(piece: str, named: Callable[[str], Paint]) -> tuple[str, float]:
    found = _PART.match(piece)
    if found is None:
        return named(piece).id, 1.0
    return named(found["paint"]).id, float(found["parts"].replace(",", "."))


def layers_in_words(text: str, named: Callable[[str], Paint]) -> tuple[Wash, ...]:
    """Return the layers of a glaze written from the top down, ``A over B``, lowest first.

    Raises
    ------
    BadRequest, UnknownPaint
    """
    pieces = [piece for piece in re.split(r"\s+over\s+", text.strip(), flags=re.IGNORECASE) if piece]
    if len(pieces) < 2:
        raise BadRequest(f"A glaze is written like “Rose over Yellow”; “{text}” has one layer only.")
    return tuple(parts_in_words(piece, named) for piece in reversed(pieces))


def mix_in_words(wash: Wash, names: Mapping[str, str]) -> str:
    """Return a wash as it is written: ``3 Scarlet + 1 Ultramarine``."""
    return " + ".join(f"{amount:g} {names.get(paint, paint)}" for paint, amount in wash)
