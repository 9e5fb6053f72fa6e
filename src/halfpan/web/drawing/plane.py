"""The a*, b* plane of a plot: a* to the right, b* up, equal scales, and what is drawn on it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from markupsafe import Markup

from halfpan.core.paint.reading import Lab
from halfpan.files.words import say
from halfpan.web.drawing.colour import beyond_screens, fill_of

WIDTH, LEFT, RIGHT, TOP, FOOT = 620.0, 46.0, 24.0, 30.0, 44.0
STEP = 20
LEAST_SPAN = 40.0
WIDEST = 1.2
"""Least width of the plane as a share of its height: a yellow runs straight up, and needs no tower."""
LINE = 16.0
LETTER = 6.6
"""About how wide a letter is on a wide page."""

Point = tuple[float, float]


class Plane:
    """Where a* and b* lie on a drawing that holds some colours and the grey middle."""

    def __init__(self, labs: Iterable[Lab]) -> None:
        points = [(lab[1], lab[2]) for lab in labs] + [(0.0, 0.0)]
        self.b0, self.b1 = _span([b for _, b in points])
        self.a0, self.a1 = _span([a for a, _ in points], least=WIDEST * (self.b1 - self.b0))
        self.scale = (WIDTH - LEFT - RIGHT) / (self.a1 - self.a0)
        self.height = TOP + FOOT + (self.b1 - self.b0) * self.scale

    def at(self, lab: Lab) -> Point:
        """Return where a colour lies."""
        return self.where(lab[1], lab[2])

    def where(self, a: float, b: float) -> Point:
        """Return where a* and b* lie."""
        x = LEFT + (a - self.a0) * self.scale
        return round(x, 1), round(TOP + (self.b1 - b) * self.scale, 1)


def drawn(plane: Plane, parts: Iterable[Markup], label: str) -> Markup:
    """Return a plot as SVG: the grid, and what lies on it."""
    view = f"0 0 {WIDTH:.0f} {plane.height:.0f}"
    return Markup('<svg viewBox="{}" role="img" aria-label="{}">{}</svg>').format(
        view, label, Markup("").join([*_grid(plane), *parts])
    )


def line(plane: Plane, labs: Sequence[Lab], kind: str) -> Markup:
    """Return a line through some colours."""
    points = " ".join(f"{x},{y}" for x, y in map(plane.at, labs))
    return Markup('<polyline class="{}" points="{}"/>').format(kind, points)


def dot(plane: Plane, lab: Lab, size: float) -> Markup:
    """Return a dot in the colour itself; a cross beside it where no screen shows that colour."""
    x, y = plane.at(lab)
    spot = Markup('<circle class="dot" cx="{}" cy="{}" r="{:g}" fill="{}"/>').format(x, y, size, fill_of(lab))
    beyond = Markup('<path class="beyond" d="M{} {}h18M{} {}v18"/>').format(x - 9, y, x, y - 9)
    return spot + (beyond if beyond_screens(lab) else Markup(""))


def ring(plane: Plane, lab: Lab, within: float) -> Markup:
    """Return a dotted ring: how far a colour may be out, in units of the plot."""
    x, y = plane.at(lab)
    return Markup('<circle class="trust" cx="{}" cy="{}" r="{:.1f}"/>').format(x, y, within * plane.scale)


def word(x: float, y: float, text: str, anchor: str = "start", kind: str = "") -> Markup:
    """Return a word."""
    return Markup('<text x="{:.1f}" y="{:.1f}" text-anchor="{}" class="{}">{}</text>').format(
        x, y, anchor, kind, text
    )


def names(
    plane: Plane, ends: Iterable[tuple[str, Lab]], taken: Iterable[Lab] = (), dots: Iterable[Lab] = ()
) -> list[Markup]:
    """Name colours beside them, apart from one another and from the words beside others, clear of dots."""
    lines = [plane.at(lab)[1] + 4 for lab in taken]
    spots = [plane.at(lab) for lab in dots]
    parts = []
    for (x, y), name in sorted(((plane.at(lab), name) for name, lab in ends), key=lambda end: end[0][1]):
        height = y - 10
        while any(abs(height - other) < LINE for other in lines):
            height -= 2
        lines.append(height)
        left, right = x - 6 - LETTER * len(name), x + 6 + LETTER * len(name)
        ways = [("end", left, x - 6, left > 0), ("start", x + 6, right, right < WIDTH)]
        if x <= WIDTH / 2:
            ways.reverse()
        anchor, start, end, _ = min(
            ways, key=lambda way: (not way[3], _covered(spots, way[1], way[2], height))
        )
        parts.append(word(start if anchor == "start" else end, height, name, anchor))
    return parts


def _covered(spots: Sequence[Point], left: float, right: float, height: float) -> int:
    """Return how many dots a word would lie on."""
    return sum(left - 5 < x < right + 5 and height - LINE < y < height + 8 for x, y in spots)


def number(value: float) -> str:
    """Return a whole number with a true minus sign."""
    return str(round(value)).replace("-", "−")


def _span(values: Sequence[float], *, least: float = LEAST_SPAN) -> tuple[float, float]:
    """Return whole steps around some values, widened on both sides until they are wide enough."""
    low, high = math.floor(min(values) / STEP), math.ceil(max(values) / STEP)
    short = max(0, math.ceil(least / STEP) - (high - low))
    low, high = low - short // 2, high + short - short // 2
    return float(low * STEP), float(high * STEP)


def _grid(plane: Plane) -> list[Markup]:
    parts = []
    for a in range(int(plane.a0), int(plane.a1) + 1, STEP):
        (x, y0), (_, y1) = plane.where(a, plane.b0), plane.where(a, plane.b1)
        parts.append(segment(x, y0, x, y1, "axis" if a == 0 else "grid"))
        parts.append(word(x, y0 + 18, number(a), "middle"))
    for b in range(int(plane.b0), int(plane.b1) + 1, STEP):
        (x0, y), (x1, _) = plane.where(plane.a0, b), plane.where(plane.a1, b)
        parts.append(segment(x0, y, x1, y, "axis" if b == 0 else "grid"))
        parts.append(word(x0 - 8, y + 4, number(b), "end"))
    parts.append(word(WIDTH - RIGHT, plane.height - 4, say("paint.axis_a"), "end"))
    parts.append(word(4, 14, say("paint.axis_b")))
    return parts


def segment(x0: float, y0: float, x1: float, y1: float, kind: str) -> Markup:
    """Return a straight line."""
    return Markup('<path class="{}" d="M{} {}L{} {}"/>').format(kind, x0, y0, x1, y1)
