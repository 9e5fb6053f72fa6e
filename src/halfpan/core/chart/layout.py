"""Rule a swatch chart: from paints in order to pages of boxes, zones and marks, and their drawing."""

from __future__ import annotations

from collections.abc import Sequence

from halfpan.core.chart.box import box_ink, swatch_box
from halfpan.core.chart.fit import one_line
from halfpan.core.chart.furniture import HAND_NOTE, INK_NOTE, Heading
from halfpan.core.chart.ink import ChartSheet, Ink, Measure
from halfpan.core.chart.label import BoxLabel, label_ink
from halfpan.core.chart.line import Line, hand_sizes, line_ink
from halfpan.core.chart.measures import Measures, measures_for, most_room
from halfpan.core.chart.page import compose
from halfpan.core.chart.rows import Cells, in_plan, in_rows
from halfpan.core.chart.sheet import Box, Chart, Sheet


def rule_swatch_chart(
    paints: Sequence[BoxLabel | None],
    *,
    sheet: Sheet,
    chart_id: str,
    measure: Measure,
    title: str = "",
    margin_mm: float = 8.0,
    plan: tuple[int, int] | None = None,
    upside_down: bool = False,
    spare: int = 0,
    line: Line = "printed",
    scale: float | None = None,
) -> ChartSheet:
    """Rule a swatch chart for any number of paints.

    Parameters
    ----------
    paints : what each box is for, in the order wanted; None is an empty seat of a plan
    sheet : the paper
    chart_id : the chart's own id, given by chance by the caller: short, capitals and digits
    measure : width in mm of a text, a face and a size in points (``halfpan.files.pdf.text_width``)
    title : heading of the sheet
    margin_mm : bare edge the printer needs
    plan : rows and columns, to follow a tin; as many as fit when left out
    upside_down : with a plan, seen with the tin turned round
    spare : boxes that must stay free; a page is filled up with spare boxes in any case
    line : ``"printed"``, or ``"hand"`` for an outline to be inked by hand
    scale : 1 for a chart in the hand, 1.6 for one to be seen from 2 m; left out, 1 up to A4 and on larger
        sheets as large as costs no further page

    Returns
    -------
    ChartSheet
        The chart (``.chart``: what is kept and read) and its drawing (``.ink``).

    Raises
    ------
    BadLayout
        When the sheet is too small for the plan, or for one box.
    """
    count, digits = len(paints) + spare, 2 if len(paints) + spare < 95 else 3
    if scale is None:
        m = most_room(sheet, margin=margin_mm, boxes=count, plan=plan, digits=digits)
    else:
        m = measures_for(sheet, margin=margin_mm, scale=scale, plan=plan, digits=digits)
    if plan:
        pages = in_plan(paints, columns=m.columns, rows=m.rows, upside_down=upside_down)
    else:
        pages = in_rows([p for p in paints if p], columns=m.columns, rows=m.rows, spare=spare)
    hand = line == "hand"
    shown = title or f"Chart {chart_id}"
    ruled = []
    for number, cells in enumerate(pages, 1):
        names = _names(
            cells, first=(number - 1) * len(cells) + 1, upside_down=upside_down and plan is not None
        )
        boxes, ink = _boxes(cells, names, m, measure, hand=hand)
        note = HAND_NOTE if hand else INK_NOTE
        heading = Heading(shown, chart_id, number, len(pages), _count(cells), note=note, sizes=hand_sizes(m))
        ruled.append(compose(boxes, ink, heading=heading, m=m, measure=measure, hand=hand))
    extra = {"title": title} if title else {}
    chart = Chart(chart_id, "swatch", sheet, tuple(page for page, _ in ruled), extra)
    return ChartSheet(chart, tuple(ink for _, ink in ruled), shown)


def _names(cells: Cells, *, first: int, upside_down: bool) -> list[str]:
    numbers = range(first, first + len(cells))
    return [str(n) for n in (reversed(numbers) if upside_down else numbers)]


def _boxes(
    cells: Cells, names: Sequence[str], m: Measures, measure: Measure, *, hand: bool
) -> tuple[tuple[Box, ...], tuple[Ink, ...]]:
    boxes: list[Box] = []
    ink: list[Ink] = [part for row in range(m.rows) for part in line_ink(row, m, hand=hand)]
    family = ""
    for k, (label, name) in enumerate(zip(cells, names, strict=True)):
        row, column = divmod(k, m.columns)
        x, y = m.box_left(column), m.row_top(row) + m.family
        box = swatch_box(name, label, x=x, y=y, m=m)
        boxes.append(box)
        ink += box_ink(box, pale=label is not None and label.pale, m=m, measure=measure, hand=hand)
        ink += label_ink(label, x=x, top=y + m.height + 1.2 * m.type, m=m, measure=measure)
        if label and label.family and (label.family != family or k == 0):
            ink.append(_family(label.family, k, cells, m, measure))
        family = label.family if label else family
    return tuple(boxes), tuple(ink)


def _family(text: str, k: int, cells: Cells, m: Measures, measure: Measure) -> Ink:
    """Set the name of a family above its first box, in the room before the next family."""
    row, column = divmod(k, m.columns)
    end = (row + 1) * m.columns
    after = next((j for j in range(k + 1, end) if (c := cells[j]) and c.family != text), end)
    room = (after - k) * (m.box + m.gap) - 3.0
    y = m.row_top(row) + m.family - 1.15 * m.type
    return one_line(text, m.box_left(column), y, room, measure=measure, face="serif", size=9.4 * m.type)


def _count(cells: Cells) -> str:
    paints = sum(1 for cell in cells if cell)
    spare = len(cells) - paints
    said = f"{paints} paint{'' if paints == 1 else 's'}"
    return f"{said}, {spare} box{'' if spare == 1 else 'es'} to spare" if spare else said
