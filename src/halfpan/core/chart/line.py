"""The black line of a row: printed, or outlined for the painter to ink."""

from __future__ import annotations

from typing import Literal

from halfpan.core.chart.ink import Fill, Frame, Ink
from halfpan.core.chart.measures import Measures
from halfpan.core.chart.sheet import Rect

Line = Literal["printed", "hand"]


def line_rect(row: int, m: Measures) -> Rect:
    """Return the black line of a row, whole."""
    return Rect(m.left, m.line_top(row), m.right - m.left, m.line)


def line_ink(row: int, m: Measures, *, hand: bool) -> list[Ink]:
    """Draw the black line of a row, whole, or as outlined pieces with the numbers between."""
    whole = line_rect(row, m)
    if not hand:
        return [Fill((whole,))]
    starts = [m.box_left(column) - m.beside_number / 2 for column in range(m.columns)]
    wide = m.beside_number / 2 + m.box + m.end - 0.4
    return [Frame(Rect(x, whole.y, wide, whole.height), weight=0.25, dash=False) for x in starts]


def hand_sizes(m: Measures) -> str:
    """Say what one needs to rule the page by hand."""
    return (
        f"To rule by hand, in mm: boxes {m.box:.1f} × {m.height:.1f}, {m.gap:.1f} apart, rows every "
        f"{m.pitch:.1f}; first box {m.box_left(0):.1f} from the left, {m.row_top(0) + m.family:.1f} from the "
        f"top; line {m.line:.1f}, {m.above_line:.1f} below the top of the box; ticks at "
        f"{m.height - m.graded:.1f}."
    )
