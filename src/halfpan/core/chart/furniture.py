"""What stands round the boxes: heading, lines to write on, code, bar of 100 mm, instructions."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.chart.fit import fit, one_line, words_at
from halfpan.core.chart.ink import POINT, Ink, Measure, Rule
from halfpan.core.chart.mark import code_ink, code_text
from halfpan.core.chart.measures import Measures

HOW_TO_PAINT = (
    "Full strength over the line, evenly, down to the ticks; then water alone, down to bare paper.",
    "Keep the gaps clean. Leave it to dry overnight.",
)
INK_NOTE = (
    "The line must not run: laser toner and pigment ink stand water, most dye ink does not. "
    "Try a corner first."
)
"""Common practice, from memory: no source tests home printers on watercolour paper."""

HAND_NOTE = "Ink the outlined lines with a black that stands water, twice, and let them dry before you paint."


@dataclass(frozen=True, slots=True)
class Heading:
    """What the top and the foot of a page say."""

    title: str
    chart_id: str
    page: int
    pages: int
    count: str
    how: tuple[str, ...] = HOW_TO_PAINT
    note: str = INK_NOTE
    sizes: str = ""


def header_ink(heading: Heading, m: Measures, measure: Measure) -> tuple[Ink, ...]:
    """Return title and counts at the left, lines to write on and the code at the right."""
    left, right, width = m.box_left(0), m.sheet.width_mm - m.left - m.end, m.sheet.width_mm
    large = max(1.0, m.type**0.8)
    code_x = right - m.code
    wide = min(34.0 * large, 0.2 * width)
    hand_x = code_x - 5.5 * large - wide
    room = hand_x - 5 * large - left
    if width > m.sheet.height_mm:  # clear of the mark at the middle of the top
        room = min(room, (width - m.mark) / 2 - 3 - left)
        hand_x = max(hand_x, (width + m.mark) / 2 + 3)
    ink: list[Ink] = [
        code_ink(code_text(heading.chart_id, heading.page), code_x, m.margin, m.code),
        *_title(heading, left, room, m.margin, large, measure=measure),
    ]
    for k, word in enumerate(("Painted", "Paper")):
        y = m.margin + (6.0 + 6.8 * k) * large
        ink.append(one_line(word, hand_x, y, 9 * large, measure=measure, face="sans", size=7.2 * large))
        ink.append(Rule(hand_x + 10.5 * large, y + 0.6, code_x - 5.5 * large, y + 0.6))
    return tuple(ink)


def _title(
    heading: Heading, left: float, room: float, top: float, large: float, *, measure: Measure
) -> list[Ink]:
    title = fit(heading.title, room, measure=measure, face="serif bold", size=21 * large, least=13 * large)
    leading = 1.02 * title.size * POINT
    base = top + (6.6 * large if len(title.lines) < 2 else 0.75 * title.size * POINT)
    pages = f", page {heading.page} of {heading.pages}" if heading.pages > 1 else ""
    said = f"{heading.count}. Chart {heading.chart_id}{pages}."
    under = base + (len(title.lines) - 1) * leading + 5.4 * large
    return [
        *words_at(title, left, base, measure=measure, face="serif bold", leading=leading),
        one_line(said, left, under, room, measure=measure, face="sans", size=8 * large),
    ]


def footer_ink(heading: Heading, m: Measures, measure: Measure) -> tuple[Ink, ...]:
    """Return the bar of 100 mm, and below it how to print, how to paint and how to rule by hand."""
    left, right = m.box_left(0), m.sheet.width_mm - m.left
    large = max(1.0, m.type**0.5)
    size, step = 6.6 * large, 2.85 * large
    top = m.sheet.height_mm - m.margin - 11.4 * large
    base = top + 5.0 * large
    lying = m.sheet.width_mm > m.sheet.height_mm
    half, start = (m.sheet.width_mm - m.mark) / 2 - 3, (m.sheet.width_mm + m.mark) / 2 + 3
    long = 100 if (half if lying else right) - left >= 100 else 50
    first = f"{long} mm. Print at 100 %."
    bold = one_line(first, left, base, right - left, measure=measure, face="sans bold", size=size)
    after = bold.x + bold.width + 1.2
    how = " ".join(heading.how)
    if lying:  # left and right of the mark at the middle of the foot
        said = [
            (heading.note, left, base + step, half),
            (how, start, top + 1.8, right),
            (heading.sizes, start, top + 1.8 + 2 * step, right),
        ]
        lines = 2
    else:
        said = [(heading.note, after, base, right), (how, left, base + step, right)]
        said.append((heading.sizes, left, base + 2 * step, right))
        lines = 1
    ink: list[Ink] = [*_bar(left, top, long), bold]
    for text, x, y, end in said:
        set_in = fit(text, end - x, measure=measure, face="sans", size=size, least=2, lines=lines)
        ink += words_at(set_in, x, y, measure=measure, face="sans", leading=step)
    return tuple(ink)


def _bar(left: float, top: float, long: int) -> list[Ink]:
    """Return a bar of exactly 100 mm (50 on a narrow sheet) with a tick every 10."""
    level = top + 1.8
    ticks: list[Ink] = [
        Rule(left + 10 * k, level - (2.0 if k % 5 == 0 else 1.1), left + 10 * k, level, 0.4)
        for k in range(long // 10 + 1)
    ]
    return [Rule(left, level, left + long, level, 0.6), *ticks]
