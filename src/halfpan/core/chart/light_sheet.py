"""Rule a sheet for a light test: each paint at full strength and thin, the left half to be kept covered.

Both strokes run across the whole box, so that kept and exposed are one wash; the thin one fades first.
"""

from __future__ import annotations

from collections.abc import Sequence

from halfpan.core.chart.box import number_ink
from halfpan.core.chart.fit import one_line
from halfpan.core.chart.furniture import Heading
from halfpan.core.chart.ink import ChartSheet, Frame, Ink, Measure, Rule
from halfpan.core.chart.label import BoxLabel, label_ink
from halfpan.core.chart.line import line_ink
from halfpan.core.chart.measures import CLEAR, Measures, measures_for
from halfpan.core.chart.page import compose
from halfpan.core.chart.sheet import Box, Chart, Page, Rect, Sheet, Stroke, Zone
from halfpan.errors import BadLayout

KIND = "light"
THIN = 1 / 8
"""Share of full strength of the thin stroke: one part of paint to eight of water (common practice)."""

HALVES = {"full": ("kept", "exposed"), "thin": ("kept thin", "exposed thin")}
"""Zones of each strength: the half kept covered, the half in light."""

HOW_TO_PAINT = (
    "Paint each stroke across both halves, the upper at full strength,",
    "the lower with 1 part of paint to 8 of water. Dry; photograph.",
)
HOW_TO_EXPOSE = (
    "Cover the left halves with card and opaque metal tape, hang the sheet behind glass, not acrylic, "
    "its back in the dark, and write down the date."
)
STROKES = ("upper: full strength", "lower: 1 to 8 of water")
_BETWEEN = 2.2  # bare paper between the two strokes, mm
_SPAN = 2


def rule_light_chart(
    paints: Sequence[BoxLabel],
    *,
    sheet: Sheet,
    chart_id: str,
    measure: Measure,
    title: str = "",
    margin_mm: float = 8.0,
    scale: float = 1.0,
) -> ChartSheet:
    """Rule a sheet for a light test.

    Parameters
    ----------
    paints : the paints, in the order wanted
    sheet, chart_id, measure, title, margin_mm, scale : as in ``rule_swatch_chart``

    Returns
    -------
    ChartSheet
        Kind ``light``, one box a paint. Zones: ``kept`` and ``exposed`` at full strength, ``kept thin`` and
        ``exposed thin``, ``bare`` and ``bare line``.

    Raises
    ------
    BadLayout
        When the sheet has no room for one box, which is two boxes of a swatch chart wide.
    """
    m = measures_for(sheet, margin=margin_mm, scale=scale)
    if m.columns < _SPAN:
        raise BadLayout(f"A light test needs a sheet wider than {sheet.width_mm:g} mm at this size.")
    across = m.columns // _SPAN
    m = measures_for(sheet, margin=margin_mm, scale=scale, plan=(m.rows, across * _SPAN))
    each = m.rows * across
    pages = max(1, -(-len(paints) // each))
    shown = title or "Light test"
    ruled = []
    for number in range(1, pages + 1):
        first = (number - 1) * each
        here = paints[first : first + each]
        said = f"{len(here)} paint{'' if len(here) == 1 else 's'}"
        heading = Heading(shown, chart_id, number, pages, said, how=HOW_TO_PAINT, sizes=HOW_TO_EXPOSE)
        ruled.append(_page(here, first, across, heading, m=m, measure=measure))
    extra = {"title": title} if title else {}
    chart = Chart(chart_id, KIND, sheet, tuple(page for page, _ in ruled), extra)
    return ChartSheet(chart, tuple(ink for _, ink in ruled), shown)


def _page(
    paints: Sequence[BoxLabel], first: int, across: int, heading: Heading, *, m: Measures, measure: Measure
) -> tuple[Page, tuple[Ink, ...]]:
    boxes: list[Box] = []
    rows = -(-len(paints) // across)
    ink: list[Ink] = [part for row in range(rows) for part in line_ink(row, m, hand=False)]
    for k, label in enumerate(paints):
        row, column = divmod(k, across)
        x, y = m.box_left(column * _SPAN), m.row_top(row) + m.family
        boxes.append(_box(str(first + k + 1), label, x, y, m))
        ink += _box_ink(boxes[-1], label, x, y, m=m, measure=measure)
    return compose(boxes, ink, heading=heading, m=m, measure=measure)


def _wide(m: Measures) -> float:
    return _SPAN * (m.box + m.gap) - m.gap


def _areas(x: float, y: float, m: Measures) -> tuple[Rect, Rect]:
    """Return where the full and the thin stroke lie."""
    tall = m.above_line + m.line + m.below_line
    thin = y + tall + _BETWEEN * m.type
    return Rect(x, y, _wide(m), tall), Rect(x, thin, _wide(m), y + m.height - thin)


def _box(name: str, label: BoxLabel, x: float, y: float, m: Measures) -> Box:
    full, thin = _areas(x, y, m)
    under = y + m.above_line + m.line
    below = {"full": Rect(x, under, full.width, full.bottom - under), "thin": thin}
    zones = [
        Zone(zone, _half(below[strength], k).inset(CLEAR), "paper")
        for strength, names in HALVES.items()
        for k, zone in enumerate(names)
    ]
    beside = full.right + CLEAR
    zones.append(Zone("bare", Rect(beside, under + CLEAR, m.bare, thin.bottom - under - CLEAR), "paper"))
    line = Rect(beside, y + m.above_line + CLEAR, m.bare, m.line - 2 * CLEAR)
    zones.append(Zone("bare line", line, "black"))
    strokes = (Stroke(full, "full"), Stroke(thin, "full", load=THIN))
    return Box(name, label.paint, label.text, strokes, tuple(zones))


def _half(area: Rect, k: int) -> Rect:
    return Rect(area.x + k * area.width / 2, area.y, area.width / 2, area.height)


def _box_ink(box: Box, label: BoxLabel, x: float, y: float, *, m: Measures, measure: Measure) -> list[Ink]:
    full, thin = _areas(x, y, m)
    line = y + m.above_line
    middle = x + full.width / 2
    ink: list[Ink] = [Frame(full, gap=(line, line + m.line)), Frame(thin)]
    ends = ((full.y, 1.2), (full.bottom, -1.2), (thin.y, 1.2), (thin.bottom, -1.2))
    ink += [Rule(middle, at, middle, at + tick, 0.6) for at, tick in ends]
    ink.append(number_ink(box.box, x, line, m, measure, hand=False))
    above = y - 1.15 * m.type
    for text, left in (("Kept covered", x), ("In light", middle)):
        ink.append(
            one_line(text, left, above, full.width / 2 - 1, measure=measure, face="serif", size=8.4 * m.type)
        )
    top = y + m.height + 1.2 * m.type
    left, room = x + m.box + m.gap, m.box
    for k, text in enumerate(STROKES):
        base = top + (2.4 + 2.65 * k) * m.type
        ink.append(one_line(text, left, base, room, measure=measure, face="sans", size=6.4 * m.type))
    return [*ink, *label_ink(label, x=x, top=top, m=m, measure=measure)]
