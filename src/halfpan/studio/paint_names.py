"""What paints are called in an answer: by their name where it is the only one, else with their maker."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from halfpan.collection import paints
from halfpan.core.paint.paint import Paint
from halfpan.studio.studio import Studio


def names_of(everything: Iterable[Paint]) -> dict[str, str]:
    """Return a name for every paint (by id) that means it and no other: name, maker and name, or its id."""
    named = list(everything)
    short = Counter(paint.name.casefold() for paint in named)
    long = Counter(f"{paint.maker} {paint.name}".casefold() for paint in named)
    names: dict[str, str] = {}
    for paint in named:
        full = f"{paint.maker} {paint.name}"
        if short[paint.name.casefold()] == 1:
            names[paint.id] = paint.name
        else:
            names[paint.id] = full if long[full.casefold()] == 1 else paint.id
    return names


def names_in(studio: Studio) -> dict[str, str]:
    """Return the names of all paints of a studio."""
    with studio.look() as db:
        return names_of(paints.listed(db))
