"""Put a page together: boxes, heading and foot, marks, and the list of everything that carries ink."""

from __future__ import annotations

from collections.abc import Sequence

from halfpan.core.chart.furniture import Heading, footer_ink, header_ink
from halfpan.core.chart.ink import Ink, Measure, inked
from halfpan.core.chart.line import line_rect
from halfpan.core.chart.mark import eight_marks, mark_ink
from halfpan.core.chart.measures import Measures
from halfpan.core.chart.sheet import Box, Page


def compose(
    boxes: Sequence[Box],
    ink: Sequence[Ink],
    *,
    heading: Heading,
    m: Measures,
    measure: Measure,
    hand: bool = False,
) -> tuple[Page, tuple[Ink, ...]]:
    """Return a page and its drawing.

    Parameters
    ----------
    boxes, ink : what the kind of chart puts on the page
    heading, m, measure : what stands round it, where, and how wide text is
    hand : the painter inks the lines, which count as printed
    """
    lines = [m.line_top(row) + m.line / 2 for row in range(m.rows)]
    marks = eight_marks(m.sheet, margin=m.margin, side=m.mark, lines=lines)
    whole = (
        *ink,
        *header_ink(heading, m, measure),
        *footer_ink(heading, m, measure),
        *(part for mark in marks for part in mark_ink(mark)),
    )
    inked_by_hand = [line_rect(row, m) for row in range(m.rows)] if hand else []
    return Page(heading.page, marks, tuple(boxes), (*inked(whole), *inked_by_hand)), whole
