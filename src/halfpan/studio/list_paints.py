"""The paints of a studio, all of them or those that answer to some words."""

from __future__ import annotations

from collections.abc import Iterable

from halfpan.collection import paints
from halfpan.core.paint.paint import Paint
from halfpan.studio.listing.columns import folded
from halfpan.studio.studio import Studio


def list_paints(studio: Studio, words: str = "", *, owned: bool | None = None) -> list[Paint]:
    """Return paints by their number; each of the words must occur somewhere in what is known of them."""
    with studio.look() as db:
        everything = paints.listed(db)
    return answering(everything, words, owned=owned)


def answering(everything: Iterable[Paint], words: str = "", *, owned: bool | None = None) -> list[Paint]:
    """Return those of some paints in which every word occurs."""
    wanted = folded(words).split()
    return [
        one
        for one in everything
        if (owned is None or one.owned == owned) and (not wanted or _holds(one, wanted))
    ]


def _holds(paint: Paint, wanted: list[str]) -> bool:
    said = (
        paint.id, paint.maker, paint.range, paint.name, *paint.other_names, *paint.codes, paint.label.codes,
        *paint.tags, paint.notes, paint.place, paint.batch, paint.form,
    )  # fmt: skip
    text = folded(" ".join(said))
    return all(word in text for word in wanted)
