"""How a paint changed in light: ΔE*ab against days, each look with its doubt, two named limits."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from halfpan.core.fading.course import LIMITS, Look
from halfpan.files.words import say
from halfpan.web.drawing.plane import segment, word

WIDTH, HEIGHT = 620.0, 300.0
LEFT, RIGHT, TOP, FOOT = 46.0, 146.0, 22.0, 44.0
LINE = 16.0
LEAST_DAYS, LEAST_CHANGE = 30.0, 6.0
CAP = 5.0
DAY_STEPS = (5, 10, 20, 30, 60, 90, 180, 365, 730)
CHANGE_STEPS = (1, 2, 5, 10, 20, 50)


class _Field:
    """Where days and changes lie on the drawing."""

    def __init__(self, courses: Sequence[tuple[str, Sequence[Look]]]) -> None:
        looks = [look for _, some in courses for look in some]
        self.days = max([LEAST_DAYS, *(look.days for look in looks)])
        self.most = 1.06 * max([LEAST_CHANGE, *(look.fading.most for look in looks)])

    def at(self, days: float, change: float) -> tuple[float, float]:
        x = LEFT + days / self.days * (WIDTH - LEFT - RIGHT)
        y = HEIGHT - FOOT - change / self.most * (HEIGHT - TOP - FOOT)
        return round(x, 1), round(y, 1)


def light_plot(name: str, courses: Sequence[tuple[str, Sequence[Look]]]) -> Markup:
    """Return the plot as SVG.

    Parameters
    ----------
    name
        The paint.
    courses
        What each stroke is called and its looks by day; the first is drawn filled, the second open.
    """
    field = _Field(courses)
    limits, names = _limits(field)
    parts = [*_grid(field), *limits]
    for k, (_, looks) in enumerate(courses):
        parts += _course(field, looks, filled=k == 0)
    parts += [*names, *_key(courses)]
    label = say("light.plot_label", name=name, told="; ".join(_told(*course) for course in courses))
    view = f"0 0 {WIDTH:.0f} {HEIGHT:.0f}"
    return Markup('<svg viewBox="{}" role="img" aria-label="{}">{}</svg>').format(
        view, label, Markup("").join(parts)
    )


def _told(stroke: str, looks: Sequence[Look]) -> str:
    last = looks[-1]
    change = f"{last.fading.delta_e_ab:.1f} ± {last.fading.within_ab:.1f}"
    return say("light.plot_told", stroke=stroke, change=change, days=round(last.days))


def _course(field: _Field, looks: Sequence[Look], *, filled: bool) -> list[Markup]:
    kind = "main" if filled else "main dashed"
    points = [field.at(look.days, look.fading.delta_e_ab) for look in looks]
    line = " ".join(f"{x},{y}" for x, y in points)
    parts = [Markup('<polyline class="{}" points="{}"/>').format(kind, line)]
    for look, (x, y) in zip(looks, points, strict=True):
        high, low = (field.at(look.days, end)[1] for end in (look.fading.most, look.fading.least))
        parts.append(
            Markup('<path class="doubt" d="M{} {}V{}M{} {}h{}M{} {}h{}"/>').format(
                x, low, high, x - CAP, low, 2 * CAP, x - CAP, high, 2 * CAP
            )
        )
        parts.append(_mark(x, y, filled=filled))
    return parts


def _mark(x: float, y: float, *, filled: bool) -> Markup:
    return Markup('<circle class="{}" cx="{}" cy="{}" r="5"/>').format(
        "look" if filled else "look open", x, y
    )


def _key(courses: Sequence[tuple[str, Sequence[Look]]]) -> list[Markup]:
    parts: list[Markup] = []
    x = LEFT + 8
    for k, (stroke, _) in enumerate(courses):
        parts += [_mark(x, 10.0, filled=k == 0), word(x + 11, 14.5, stroke, kind="key")]
        x += 200
    return parts


def _grid(field: _Field) -> list[Markup]:
    parts = []
    day = next((step for step in DAY_STEPS if field.days / step <= 6), DAY_STEPS[-1])
    for k in range(int(field.days // day) + 1):
        (x, low), (_, high) = field.at(k * day, 0), field.at(k * day, field.most)
        parts += [segment(x, low, x, high, "grid"), word(x, low + 18, str(k * day), "middle")]
    change = next((step for step in CHANGE_STEPS if field.most / step <= 7), CHANGE_STEPS[-1])
    for k in range(int(field.most // change) + 1):
        (x, y), (end, _) = field.at(0, k * change), field.at(field.days, k * change)
        parts += [
            segment(x, y, end, y, "axis" if k == 0 else "grid"),
            word(x - 8, y + 4.5, str(k * change), "end"),
        ]
    foot = field.at(field.days, 0)
    parts.append(word(foot[0], foot[1] + 36, say("light.days_axis"), "end"))
    return parts


def _limits(field: _Field) -> tuple[list[Markup], list[Markup]]:
    """Return the named limits as lines across, and their names beside the field, clear of one another."""
    lines, names = [], []
    room = HEIGHT
    for limit, key in zip(LIMITS, ("limit_seen", "limit_first"), strict=True):
        (x, y), (end, _) = field.at(0, limit), field.at(field.days, limit)
        lines.append(segment(x, y, end, y, "limit"))
        base = min(y + 4.5, room)
        names.append(word(end + 10, base, say(f"light.{key}", limit=f"{limit:g}"), "start"))
        room = base - LINE
    return lines, names
