"""Makers that a list writes before or after the name instead of in a column of their own.

Only makers already known are looked for, those of the collection and those the list names elsewhere: the
first words of a name may as well be part of it (French, Cadmium), so nothing is guessed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from halfpan.core.paint.paint import Paint
from halfpan.studio.listing.columns import folded
from halfpan.studio.listing.lines import Entry

_BETWEEN = r"[\s,;:()\[\]–—-]+"
_EDGES = " ,;:–—-"


def with_known_makers(entries: Sequence[Entry], known: Iterable[str]) -> tuple[list[Entry], str]:
    """Return the entries, those that have no maker but name a known one with it taken apart, and a note.

    Parameters
    ----------
    entries : lines as they were read
    known : makers of the collection

    Returns
    -------
    The entries, and what was done in one sentence; an empty one where nothing was.
    """
    makers = {folded(m): m for m in (*known, *(e.paint.maker for e in entries if e.paint)) if folded(m)}
    longest_first = sorted(makers, key=len, reverse=True)
    lines: list[int] = []
    read: list[Entry] = []
    for entry in entries:
        if entry.paint and not entry.paint.maker and (apart := _apart(entry.paint, makers, longest_first)):
            entry = replace(entry, paint=apart)  # noqa: PLW2901 -- the same line, its maker known
            lines.append(entry.line)
        read.append(entry)
    if not lines:
        return read, ""
    where = f"line {lines[0]}" if len(lines) == 1 else f"{len(lines)} lines, the first of them {lines[0]}"
    return read, f"A maker you know stands beside the name in {where}; it was taken as the maker."


def _apart(paint: Paint, makers: dict[str, str], longest_first: Sequence[str]) -> Paint | None:
    for key in longest_first:
        if rest := _without(paint.name, key):
            return replace(paint, maker=makers[key], name=rest)
    return None


def _without(name: str, key: str) -> str:
    """Return a name without the words of ``key`` before or after it; empty where they are not there."""
    parts = re.split(f"({_BETWEEN})", name.strip(_EDGES))
    for cut in range(1, len(parts), 2):
        before, after = "".join(parts[:cut]), "".join(parts[cut + 1 :])
        if folded(before) == key:
            return after
        if folded(after) == key:
            return before
    return ""
