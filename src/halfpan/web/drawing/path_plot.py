"""The path of a paint from strong to thin on the a*, b* plane: a* to the right, b* up, equal scales."""

from __future__ import annotations

import math
from collections.abc import Sequence

from markupsafe import Markup, escape

from halfpan.core.paint.reading import Lab
from halfpan.files.words import say
from halfpan.web.drawing.colour import beyond_screens, fill_of

WIDTH, LEFT, RIGHT, TOP, FOOT = 620.0, 46.0, 24.0, 30.0, 44.0
STEP = 20
LEAST_SPAN = 40.0
WIDEST = 1.2
"""Least width of the plane as a share of its height: a yellow runs straight up, and needs no tower."""
LINE = 16.0

Point = tuple[float, float]


class _Plane:
    """Where a* and b* lie on the drawing."""

    def __init__(self, points: Sequence[Point]) -> None:
        self.b0, self.b1 = _span([b for _, b in points])
        self.a0, self.a1 = _span([a for a, _ in points], least=WIDEST * (self.b1 - self.b0))
        self.scale = (WIDTH - LEFT - RIGHT) / (self.a1 - self.a0)
        self.height = TOP + FOOT + (self.b1 - self.b0) * self.scale

    def at(self, point: Point) -> Point:
        x = LEFT + (point[0] - self.a0) * self.scale
        return round(x, 1), round(TOP + (self.b1 - point[1]) * self.scale, 1)


def path_plot(
    name: str, path: Sequence[Lab], others: Sequence[tuple[str, Sequence[Lab]]], within: float
) -> Markup:
    """Return the plot as SVG.

    Parameters
    ----------
    name, path
        This paint, strong to thin.
    others
        Names and paths of its nearest; the first is dashed, the others thin.
    within
        95 % radius of the readings, drawn as dotted rings of that many units.
    """
    drawn = [path, *(other for _, other in others)]
    plane = _Plane([(lab[1], lab[2]) for some in drawn for lab in some] + [(0.0, 0.0)])
    parts = _grid(plane)
    for k, (_, labs) in enumerate(others):
        parts.append(_line(plane, labs, "other dashed" if k == 0 else "other"))
    parts += _names(plane, others, path[0])
    parts.append(_line(plane, path, "main"))
    parts += [_dot(plane, lab, within, strong=k == 0) for k, lab in enumerate(path)]
    label = escape(say("paint.plot_label", name=name, told=_told(path)))
    view = f"0 0 {WIDTH:.0f} {plane.height:.0f}"
    return Markup('<svg viewBox="{}" role="img" aria-label="{}">{}</svg>').format(
        view, label, Markup("").join(parts)
    )


def _names(plane: _Plane, others: Sequence[tuple[str, Sequence[Lab]]], strong: Lab) -> list[Markup]:
    """Name the other paths at their strong ends, apart from one another and from this paint's own word."""
    ends = sorted((plane.at((labs[0][1], labs[0][2])), name) for name, labs in others)
    taken = [plane.at((strong[1], strong[2]))[1] + 4]
    parts = []
    for (x, y), name in sorted(ends, key=lambda end: end[0][1]):
        line = y - 10
        while any(abs(line - other) < LINE for other in taken):
            line -= 2
        taken.append(line)
        parts.append(_words(x - 6, line, name, "end" if x > WIDTH / 2 else "start"))
    return parts


def _span(values: Sequence[float], *, least: float = LEAST_SPAN) -> tuple[float, float]:
    """Return whole steps around some values, widened on both sides until they are wide enough."""
    low, high = math.floor(min(values) / STEP), math.ceil(max(values) / STEP)
    short = max(0, math.ceil(least / STEP) - (high - low))
    low, high = low - short // 2, high + short - short // 2
    return float(low * STEP), float(high * STEP)


def _grid(plane: _Plane) -> list[Markup]:
    parts = []
    for a in range(int(plane.a0), int(plane.a1) + 1, STEP):
        (x, y0), (_, y1) = plane.at((a, plane.b0)), plane.at((a, plane.b1))
        parts.append(_segment(x, y0, x, y1, "axis" if a == 0 else "grid"))
        parts.append(_words(x, y0 + 18, _number(a), "middle"))
    for b in range(int(plane.b0), int(plane.b1) + 1, STEP):
        (x0, y), (x1, _) = plane.at((plane.a0, b)), plane.at((plane.a1, b))
        parts.append(_segment(x0, y, x1, y, "axis" if b == 0 else "grid"))
        parts.append(_words(x0 - 8, y + 4, _number(b), "end"))
    parts.append(_words(WIDTH - RIGHT, plane.height - 4, say("paint.axis_a"), "end"))
    parts.append(_words(4, 14, say("paint.axis_b"), "start"))
    return parts


def _dot(plane: _Plane, lab: Lab, within: float, *, strong: bool) -> Markup:
    x, y = plane.at((lab[1], lab[2]))
    ring = within * plane.scale
    dot = Markup('<circle class="dot" cx="{}" cy="{}" r="{}" fill="{}"/>').format(
        x, y, 7 if strong else 5, fill_of(lab)
    )
    trust = Markup('<circle class="trust" cx="{}" cy="{}" r="{:.1f}"/>').format(x, y, ring)
    beyond = Markup('<path class="beyond" d="M{} {}h18M{} {}v18"/>').format(x - 9, y, x, y - 9)
    word = _words(x + 12, y + 4, say("paint.strong"), "start", "key") if strong else Markup("")
    return (trust if strong else Markup("")) + dot + (beyond if beyond_screens(lab) else Markup("")) + word


def _line(plane: _Plane, labs: Sequence[Lab], kind: str) -> Markup:
    points = " ".join(f"{x},{y}" for x, y in (plane.at((lab[1], lab[2])) for lab in labs))
    return Markup('<polyline class="{}" points="{}"/>').format(kind, points)


def _segment(x0: float, y0: float, x1: float, y1: float, kind: str) -> Markup:
    return Markup('<path class="{}" d="M{} {}L{} {}"/>').format(kind, x0, y0, x1, y1)


def _words(x: float, y: float, text: str, anchor: str, kind: str = "") -> Markup:
    return Markup('<text x="{:.1f}" y="{:.1f}" text-anchor="{}" class="{}">{}</text>').format(
        x, y, anchor, kind, text
    )


def _number(value: int) -> str:
    return str(value).replace("-", "−")


def _told(path: Sequence[Lab]) -> str:
    first, last = path[0], path[-1]
    return say(
        "paint.plot_told",
        a0=_number(round(first[1])),
        b0=_number(round(first[2])),
        a1=_number(round(last[1])),
        b1=_number(round(last[2])),
    )
