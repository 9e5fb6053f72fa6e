"""One box of a swatch chart: where the brush goes, where Halfpan reads, and what is printed there."""

from __future__ import annotations

from halfpan.core.chart.fit import one_line
from halfpan.core.chart.ink import Fill, Frame, Ink, Measure, Rule
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.measures import CLEAR, LEAST_MASSTONE, Measures
from halfpan.core.chart.sheet import Box, Rect, Stroke, Zone

TICK = 1.3
"""Length of the ticks where full strength ends."""

SHOWN_OUTSIDE = 2.4
"""A black ground goes this far past the box, so that the edge of a white stroke shows."""


def swatch_box(name: str, label: BoxLabel | None, *, x: float, y: float, m: Measures) -> Box:
    """Return the box with its top left corner at ``x, y``."""
    full = Rect(x, y, m.box, m.above_line + m.line + m.below_line)
    graded = Rect(x, full.bottom, m.box, m.graded)
    return Box(
        box=name,
        paint=label.paint if label else None,
        label=label.text if label else "",
        strokes=(Stroke(full, "full"), Stroke(graded, "graded", "down")),
        zones=_zones(x, y, m, pale=label is not None and label.pale),
    )


def _zones(x: float, y: float, m: Measures, *, pale: bool) -> tuple[Zone, ...]:
    line, under = y + m.above_line, y + m.above_line + m.line
    foot = under + m.below_line + m.graded
    paper = (ground_left(x, m) if pale else x + m.box) - x - 2 * CLEAR
    inside, beside = x + CLEAR, x + m.box + CLEAR
    black = m.line - 2 * CLEAR
    high = m.below_line - 2 * CLEAR
    fade = m.graded - 2 * CLEAR
    away = SHOWN_OUTSIDE if pale else 0.0
    zones = [
        Zone("masstone", Rect(inside, under + CLEAR, paper, high), "paper"),
        Zone("black line", Rect(inside, line + CLEAR, m.box - 2 * CLEAR, black), "black"),
        Zone("graded", Rect(inside, under + m.below_line + CLEAR, paper, fade), "paper", "down"),
        Zone("bare", Rect(beside + away, under + CLEAR, m.bare - away / 2, foot - under - CLEAR), "paper"),
        Zone("bare line", Rect(beside, line + CLEAR, m.bare, black), "black"),
    ]
    if pale:
        left = ground_left(x, m) + CLEAR
        wide = x + m.box - CLEAR - left
        on_black = Rect(left, under + m.below_line + CLEAR, wide, fade)
        zones.insert(3, Zone("graded on black", on_black, "black", "down"))
    return tuple(zones)


def ground_left(x: float, m: Measures) -> float:
    """Where the black ground of a pale paint begins: the paper left of it holds a whole masstone zone."""
    return x + max(LEAST_MASSTONE[0] + 2 * CLEAR, 0.5 * m.box)


def box_ink(box: Box, *, pale: bool, m: Measures, measure: Measure, hand: bool = False) -> tuple[Ink, ...]:
    """Return the dashed outline, the ticks, the number and, for a pale paint, the black ground of a box."""
    full, graded = box.strokes[0].rect, box.strokes[1].rect
    line = full.y + m.above_line
    outline = Rect(full.x, full.y, full.width, graded.bottom - full.y)
    ink: list[Ink] = [Frame(outline, gap=(line, line + m.line))]
    left, right, level = full.x, full.right, full.bottom
    if pale:
        start, low = ground_left(full.x, m), graded.bottom
        ground = Rect(start, line + m.line, right + SHOWN_OUTSIDE - start, low - line - m.line)
        ink.append(Frame(ground, dash=False) if hand else Fill((ground,)))
    else:
        ink.append(Rule(right - TICK, level, right, level, 0.6))
    ink.append(Rule(left, level, left + TICK, level, 0.6))
    ink.append(number_ink(box.box, full.x, line, m, measure, hand=hand))
    return tuple(ink)


def number_ink(name: str, x: float, line: float, m: Measures, measure: Measure, *, hand: bool) -> Ink:
    """Set a number on the line, left of its box: white, or black where the line is ruled by hand."""
    size = 7.4 * m.type
    base = line + m.line / 2 + 0.33 * size * 25.4 / 72
    return one_line(
        name,
        x - m.beside_number,
        base,
        m.number,
        measure=measure,
        face="sans bold",
        size=size,
        to_right=True,
        white=not hand,
    )
