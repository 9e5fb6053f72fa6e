"""The two type families of a printed sheet, carried inside every document."""

from __future__ import annotations

from functools import cache
from importlib import resources
from io import BytesIO
from typing import Any

from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont

from halfpan.core.chart.ink import POINT, Face

_FILES: dict[Face, tuple[str, str]] = {
    "serif": ("font_source_serif_pro", "SourceSerifPro-Regular.ttf"),
    "serif bold": ("font_source_serif_pro", "SourceSerifPro-Semibold.ttf"),
    "serif italic": ("font_source_serif_pro", "SourceSerifPro-It.ttf"),
    "sans": ("font_source_sans_pro", "SourceSansPro-Regular.ttf"),
    "sans bold": ("font_source_sans_pro", "SourceSansPro-Semibold.ttf"),
}


def font_name(face: Face) -> str:
    """Return the name a face goes by inside a document."""
    return "Halfpan-" + face.replace(" ", "-")


@cache
def _font(face: Face) -> Any:
    package, name = _FILES[face]
    return TTFont(font_name(face), BytesIO(resources.files(package).joinpath("files", name).read_bytes()))


@cache
def register_fonts() -> None:
    """Make every face known to the document writer."""
    for face in _FILES:
        registerFont(_font(face))


def text_width(text: str, face: Face, size: float) -> float:
    """Return the width of a text in mm; ``size`` in points. This is what ``measure`` asks for in the core."""
    metrics = _font(face).face
    widths = metrics.charWidths
    units = sum(widths.get(ord(letter), metrics.defaultWidth) for letter in text)
    return float(units) * size / 1000 * POINT


def unprintable(text: str) -> tuple[str, ...]:
    """Return the letters of a text that the fonts do not hold; they would be printed as empty boxes."""
    held = _font("serif bold").face.charToGlyph.keys() & _font("sans").face.charToGlyph.keys()
    return tuple(dict.fromkeys(letter for letter in text if ord(letter) not in held and not letter.isspace()))
