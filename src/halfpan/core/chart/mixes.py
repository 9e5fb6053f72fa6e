"""Rule a sheet of mixes: boxes like those of a swatch chart, each with its parts and paints below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfpan.core.chart.box import box_ink, swatch_box
from halfpan.core.chart.fit import fit, one_line, words_at
from halfpan.core.chart.furniture import Heading
from halfpan.core.chart.ink import ChartSheet, Ink, Measure, Rule
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.line import hand_sizes, line_ink
from halfpan.core.chart.measures import Measures, measures_for
from halfpan.core.chart.page import compose
from halfpan.core.chart.sheet import Box, Chart, Part, Sheet

HOW_TO_MIX = (
    "Measure parts with one brush or dropper. Full strength over the line, down to the ticks; then water.",
    "Keep the gaps clean. Leave it to dry overnight.",
)
SHAPE = {"box": 28.0, "graded": 11.5, "label": 23.5, "family": 2.4}


@dataclass(frozen=True, slots=True)
class MixLabel:
    """A mix to paint: each paint with its parts, and a word on why (its doubt now, say)."""

    parts: Sequence[tuple[BoxLabel, float]]
    note: str = ""

    @property
    def text(self) -> str:
        """The mix in one line, such as "3 Scarlet + 1 Ultramarine"."""
        return " + ".join(f"{amount:g} {label.name}" for label, amount in self.parts)


def rule_mix_chart(
    mixes: Sequence[MixLabel],
    *,
    sheet: Sheet,
    chart_id: str,
    measure: Measure,
    title: str = "",
    margin_mm: float = 8.0,
    scale: float = 1.0,
) -> ChartSheet:
    """Rule a sheet of mixes, as many pages as needed, filled up with boxes for mixes of one's own.

    Parameters
    ----------
    mixes : in the order wanted; six paints at most in one
    sheet, chart_id, measure, title, margin_mm, scale : as in ``rule_swatch_chart``

    Returns
    -------
    ChartSheet
        Kind ``mixes``; each box tells its parts in ``mix``.

    Raises
    ------
    BadLayout
        When not one box fits on the sheet.
    """
    most = max((len(mix.parts) for mix in mixes), default=2)
    shape = SHAPE | {"label": SHAPE["label"] + 6.0 * max(0, most - 2)}
    m = measures_for(sheet, margin=margin_mm, scale=scale, shape=shape)
    page_size = m.rows * m.columns
    count = max(1, -(-len(mixes) // page_size))
    shown = title or "Mixes"
    ruled = []
    for number in range(1, count + 1):
        first = (number - 1) * page_size
        here = [*mixes[first : first + page_size]]
        cells = [*here, *[None] * (page_size - len(here))]
        boxes, ink = _boxes(cells, first + 1, m, measure)
        said = f"{len(here)} mix{'' if len(here) == 1 else 'es'}"
        said += f", {page_size - len(here)} to fill in" if page_size > len(here) else ""
        heading = Heading(shown, chart_id, number, count, said, how=HOW_TO_MIX, sizes=hand_sizes(m))
        ruled.append(compose(boxes, ink, heading=heading, m=m, measure=measure))
    extra = {"title": title} if title else {}
    chart = Chart(chart_id, "mixes", sheet, tuple(page for page, _ in ruled), extra)
    return ChartSheet(chart, tuple(ink for _, ink in ruled), shown)


def _boxes(
    cells: Sequence[MixLabel | None], first: int, m: Measures, measure: Measure
) -> tuple[list[Box], list[Ink]]:
    boxes: list[Box] = []
    ink: list[Ink] = [part for row in range(m.rows) for part in line_ink(row, m, hand=False)]
    for k, mix in enumerate(cells):
        row, column = divmod(k, m.columns)
        x, y = m.box_left(column), m.row_top(row) + m.family
        plain = swatch_box(str(first + k), None, x=x, y=y, m=m)
        parts = tuple(Part(label.paint, amount) for label, amount in mix.parts) if mix else ()
        box = Box(plain.box, None, mix.text if mix else "", plain.strokes, plain.zones, parts)
        boxes.append(box)
        ink += box_ink(box, pale=False, m=m, measure=measure)
        ink += _parts(mix, x, y + m.height + 1.2 * m.type, m, measure)
    return boxes, ink


def _parts(mix: MixLabel | None, x: float, top: float, m: Measures, measure: Measure) -> list[Ink]:
    """Set the proportion large, then each part with its paint; or empty lines for a mix of one's own."""
    s = m.type
    base, foot = top + 4.6 * s, top + m.label - 1.9 * s
    if mix is None:
        colon = one_line(":", x + 7.3 * s, base, 3 * s, measure=measure, face="serif bold", size=17 * s)
        blanks = [Rule(x + at * s, base + 0.4, x + (at + 6) * s, base + 0.4) for at in (0, 10)]
        levels = [base + 6.0 * s, base + 11.6 * s, foot]
        return [colon, *blanks, *(Rule(x, y, x + m.box, y) for y in levels)]
    ratio = " : ".join(f"{amount:g}" for _, amount in mix.parts)
    room = min(m.box + m.gap - 1.9 * s, m.right - x)
    most = 0.6 * m.box if mix.note else room
    large = one_line(ratio, x, base, most, measure=measure, face="serif bold", size=17 * s)
    ink: list[Ink] = [large, Rule(x, foot, x + m.box, foot)]
    if mix.note:
        left = m.box - large.width - 2 * s
        ink.append(
            one_line(
                mix.note, x + m.box, base, left, measure=measure, face="sans", size=6.4 * s, to_right=True
            )
        )
    for label, amount in mix.parts:
        base += 6.0 * s
        ink += _part(label, amount, x, base, room=room, s=s, measure=measure)
    return ink


def _part(
    label: BoxLabel, amount: float, x: float, base: float, *, room: float, s: float, measure: Measure
) -> list[Ink]:
    indent = 4.4 * s
    name = fit(label.name, room - indent, measure=measure, face="serif bold", size=7.9 * s, least=4, lines=1)
    codes = " · ".join(part for part in (" ".join(label.codes), label.maker, label.paint) if part)
    under = base + 2.5 * s
    return [
        one_line(f"{amount:g}", x, base, indent - 0.6, measure=measure, face="serif bold", size=7.9 * s),
        *words_at(name, x + indent, base, measure=measure, face="serif bold"),
        one_line(codes, x + indent, under, room - indent, measure=measure, face="sans", size=6.2 * s),
    ]
