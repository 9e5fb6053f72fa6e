"""Which paint is meant: by its id, or by its name when only one answers to it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection

from halfpan.collection import paints
from halfpan.core.paint.paint import Paint
from halfpan.errors import UnknownPaint
from halfpan.studio.listing.columns import folded

MOST_SHOWN = 6


def find_paint(db: Connection, text: str) -> Paint:
    """Return the one paint that is meant by an id or a name.

    A name may be made exact with its maker or range: ``Tidewater Harbour Blue``.

    Raises
    ------
    UnknownPaint
        When none answers (near names are proposed) or several do (they are listed).
    """
    return paints.at_hand(db, text.strip().casefold()) or pick_paint(paints.listed(db), text)


def find_paints(db: Connection, texts: Iterable[str]) -> list[Paint]:
    """Return the paints meant by several ids or names, in that order."""
    everything = paints.listed(db)
    return [pick_paint(everything, text) for text in texts]


def pick_paint(everything: Sequence[Paint], text: str) -> Paint:
    """Return the one of some paints that is meant by an id or a name; see `find_paint`."""
    found = answering_to(everything, text)
    if len(found) == 1:
        return found[0]
    if found:
        raise UnknownPaint(
            f"“{text}” is the name of {len(found)} paints: {_listed(found)}. Say which by its number."
        )
    raise UnknownPaint(f"No paint answers to “{text}”.{_near(everything, folded(text))}")


def answering_to(everything: Sequence[Paint], text: str) -> list[Paint]:
    """Return those of some paints that answer to an id or a name: none, one or several."""
    wanted = folded(text)
    by_id = [one for one in everything if one.id == text.strip().casefold()]
    found = by_id or [one for one in everything if wanted in _names(one)]
    return found or [one for one in everything if wanted in _long_names(one)]


def _names(paint: Paint) -> set[str]:
    return {folded(name) for name in (paint.name, *paint.other_names)}


def _long_names(paint: Paint) -> set[str]:
    return {
        folded(" ".join(parts))
        for name in (paint.name, *paint.other_names)
        for parts in ((paint.maker, name), (paint.maker, paint.range, name), (paint.range, name))
    }


def _listed(found: Sequence[Paint]) -> str:
    shown = "; ".join(_in_words(one) for one in found[:MOST_SHOWN])
    return shown + ("; and more" if len(found) > MOST_SHOWN else "")


def _in_words(paint: Paint) -> str:
    parts = (paint.name, paint.maker, paint.range, " ".join(paint.codes))
    return f"{paint.id} ({', '.join(part for part in parts if part)})"


def _near(everything: Sequence[Paint], wanted: str) -> str:
    from rapidfuzz import process

    names = {one.id: folded(one.name) for one in everything}
    near = process.extract(wanted, names, limit=3, score_cutoff=75)
    by_id = {one.id: one for one in everything}
    return f" Perhaps {_listed([by_id[key] for _, _, key in near])}?" if near else ""
