"""What a printer puts on a page: filled areas, lines, outlines and words, all in millimetres.

One drawing serves the paper, its picture and the geometry that is read later, so that they cannot differ.
All ink is pure black; white is black left out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from halfpan.core.chart.sheet import Chart, Rect, Sheet

Face = Literal["serif", "serif bold", "sans", "sans bold", "serif italic"]
Measure = Callable[[str, Face, float], float]
"""Width in mm of a text in a face at a size in points."""

POINT = 25.4 / 72
"""One point in mm."""

ASCENT, DESCENT = 0.76, 0.25
"""Height above and depth below the base line of the tallest plain letters, in ems."""


@dataclass(frozen=True, slots=True)
class Fill:
    """Areas filled as one shape; ``white`` is left out of the black beneath."""

    rects: tuple[Rect, ...]
    white: bool = False


@dataclass(frozen=True, slots=True)
class Frame:
    """The outline of an area, dashed or whole; ``weight`` in points. ``open_at`` leaves a part of it out."""

    rect: Rect
    weight: float = 0.35
    dash: bool = True
    gap: tuple[float, float] | None = None
    """From and to which y the upright sides are left out."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A thin line, level or upright; ``weight`` in points."""

    x0: float
    y0: float
    x1: float
    y1: float
    weight: float = 0.25


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text. ``x`` is its left edge, ``y`` its base line, ``size`` in points, ``width`` in mm."""

    x: float
    y: float
    text: str
    face: Face
    size: float
    width: float
    white: bool = False

    @property
    def rect(self) -> Rect:
        """The area the letters may touch."""
        em = self.size * POINT
        return Rect(self.x, self.y - ASCENT * em, self.width, (ASCENT + DESCENT) * em)


@dataclass(frozen=True, slots=True)
class Picture:
    """Room for a picture of the painter's own box, handed over by its name when the page is drawn."""

    rect: Rect
    name: str


Ink = Fill | Frame | Rule | Words | Picture


@dataclass(frozen=True, slots=True)
class ChartSheet:
    """A chart and its drawing: ``ink`` holds what is printed on each page, in order."""

    chart: Chart
    ink: tuple[tuple[Ink, ...], ...]
    title: str = ""

    @property
    def sheet(self) -> Sheet:
        """The paper."""
        return self.chart.sheet


def inked(ink: tuple[Ink, ...]) -> tuple[Rect, ...]:
    """Return the areas that carry ink. Outlines stand where the brush goes and are not counted."""
    rects: list[Rect] = []
    for item in ink:
        if isinstance(item, Fill) and not item.white:
            rects.extend(item.rects)
        elif isinstance(item, Rule):
            half = item.weight * POINT / 2
            left, top = min(item.x0, item.x1) - half, min(item.y0, item.y1) - half
            right, low = max(item.x0, item.x1) + half, max(item.y0, item.y1) + half
            rects.append(Rect(left, top, right - left, low - top))
        elif isinstance(item, Words) and not item.white and item.text.strip():
            rects.append(item.rect)
    return tuple(rects)
