"""Sizes of paper, in millimetres. Names are a convenience and are not reliable: millimetres are the truth."""

from __future__ import annotations

import re

from halfpan.core.chart.sheet import Sheet
from halfpan.errors import BadLayout

INCH = 25.4

SIZES_MM: dict[str, tuple[float, float]] = {
    # ISO 216
    "A6": (105.0, 148.0),
    "A5": (148.0, 210.0),
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "A2": (420.0, 594.0),
    "A1": (594.0, 841.0),
    # North American office sizes
    "Letter": (8.5 * INCH, 11 * INCH),
    "Legal": (8.5 * INCH, 14 * INCH),
    "Tabloid": (11 * INCH, 17 * INCH),
    # watercolour paper, 22 x 30 inches and its fractions
    "Imperial": (22 * INCH, 30 * INCH),
    "Half Imperial": (15 * INCH, 22 * INCH),
    "Quarter Imperial": (11 * INCH, 15 * INCH),
    "Eighth Imperial": (7.5 * INCH, 11 * INCH),
}
"""Width and height of each named size standing upright."""

_OTHER_NAMES = {
    "usletter": "Letter",
    "uslegal": "Legal",
    "fullimperial": "Imperial",
    "1/2imperial": "Half Imperial",
    "1/4imperial": "Quarter Imperial",
    "1/8imperial": "Eighth Imperial",
}
_SMALLEST_MM, _LARGEST_MM = 90.0, 1600.0


def sheet_of(text: str) -> Sheet:
    """Return the sheet of a name or of two lengths.

    Parameters
    ----------
    text : a name ("A4", "A4 landscape", "quarter imperial"), or width x height in mm ("250x350")

    Raises
    ------
    BadLayout
        When the name is not known, or the sheet is too small or too large to be meant.
    """
    words = re.sub(r"[\s_-]+", " ", text.strip()).lower()
    turned = words.endswith((" landscape", " portrait"))
    name, _, way = words.rpartition(" ") if turned else (words, "", "")
    width, height, shown = _lengths(name) or _named(name, text)
    if way and (way == "landscape") != (width > height):
        width, height = height, width
    if not all(_SMALLEST_MM <= side <= _LARGEST_MM for side in (width, height)):
        raise BadLayout(
            f"A sheet of {width:g} x {height:g} mm cannot be ruled: each side must be between "
            f"{_SMALLEST_MM:g} and {_LARGEST_MM:g} mm. Lengths are given in millimetres."
        )
    return Sheet(round(width, 3), round(height, 3), f"{shown} landscape" if way == "landscape" else shown)


def _lengths(name: str) -> tuple[float, float, str] | None:
    found = re.fullmatch(r"(\d+(?:\.\d+)?) ?[x×] ?(\d+(?:\.\d+)?) ?(?:mm)?", name)
    if found is None:
        return None
    width, height = float(found[1]), float(found[2])
    return width, height, f"{width:g} x {height:g} mm"


def _named(name: str, text: str) -> tuple[float, float, str]:
    bare = name.replace(" ", "")
    known = {key.replace(" ", "").lower(): key for key in SIZES_MM} | _OTHER_NAMES
    if bare not in known:
        raise BadLayout(
            f'There is no sheet called "{text}". Try one of {", ".join(SIZES_MM)}, each also with '
            '"landscape", or give width x height in mm, such as 250x350.'
        )
    width, height = SIZES_MM[known[bare]]
    return width, height, known[bare]
