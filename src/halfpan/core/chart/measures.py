"""Every length on a chart, in mm, worked out once for a sheet; ``docs/science/sheet.md`` says why each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from halfpan.core.chart.sheet import Sheet
from halfpan.errors import BadLayout

CLEAR = 1.5
"""A zone stays this far from the edge of its stroke and from print."""

NARROWEST = 116.0
"""Least width between the margins, mm."""

TIGHTER = 1.4
"""By how much labels may be closer than wished where that gives a further row, mm."""

LEAST_MASSTONE = (10.0, 5.0)
"""Least width and height of the flat full-strength zone."""


@dataclass(frozen=True, slots=True)
class Measures:
    """Lengths of a chart; those of a box stand in the order they are met going down, then across."""

    sheet: Sheet
    margin: float = 8.0
    mark: float = 7.2
    line: float = 7.0
    above_line: float = 2.6
    below_line: float = 8.4
    graded: float = 10.5
    family: float = 5.0
    label: float = 15.0
    number: float = 2.8
    beside_number: float = 1.4
    bare: float = 3.2
    box: float = 18.0
    header: float = 21.0
    footer: float = 16.5
    code: float = 15.0
    type: float = 1.0
    """All sizes of type are multiplied by this."""
    left: float = 0.0
    top: float = 0.0
    columns: int = 0
    rows: int = 0
    pitch: float = 0.0

    @property
    def gap(self) -> float:
        """Room between two boxes: bare end of the line, then the number of the next."""
        return self.end + self.number + self.beside_number

    @property
    def end(self) -> float:
        """From a box to where the next number may begin."""
        return CLEAR + self.bare + CLEAR

    @property
    def lead(self) -> float:
        """Black line left of the first box of a row."""
        return self.beside_number * 2 + self.number

    @property
    def height(self) -> float:
        """Height of a box."""
        return self.above_line + self.line + self.below_line + self.graded

    @property
    def beside_marks(self) -> float:
        """Where the page's own area begins, right of the side marks."""
        return self.margin + self.mark + 1.8 * max(1.0, self.type)

    @property
    def right(self) -> float:
        """Right end of the black lines."""
        return self.box_left(self.columns - 1) + self.box + self.end

    def line_top(self, row: int) -> float:
        """Upper edge of the black line of a row."""
        return self.row_top(row) + self.family + self.above_line

    def box_left(self, column: int) -> float:
        """Left edge of the boxes of a column."""
        return self.left + self.lead + column * (self.box + self.gap)

    def row_top(self, row: int) -> float:
        """Top of a row, where the name of a family stands."""
        return self.top + row * self.pitch


def measures_for(
    sheet: Sheet,
    *,
    margin: float = 8.0,
    scale: float = 1.0,
    plan: tuple[int, int] | None = None,
    digits: int = 2,
    shape: Mapping[str, float] = MappingProxyType({}),
) -> Measures:
    """Work out the lengths for a sheet.

    Parameters
    ----------
    sheet : the paper
    margin : bare edge the printer needs, mm
    scale : 1 for a chart in the hand; more for one on the wall
    plan : rows and columns; as many as fit when left out
    digits : of the largest box number
    shape : other wishes by name: ``box``, ``graded``, ``label``, ``family``

    Raises
    ------
    BadLayout
        When not even one box fits, or the plan does not.
    """
    if sheet.width_mm - 2 * margin < NARROWEST:
        raise BadLayout(
            f"{_said(sheet)} with a margin of {margin:g} mm is too narrow for heading and code: take a wider "
            "sheet, turn it, or make the margin smaller."
        )
    long = max(sheet.width_mm, sheet.height_mm)
    m = Measures(sheet, margin=margin, number=2.8 if digits < 3 else 3.6)
    wished: dict[str, Any] = dict(shape)
    m = _scaled(replace(m, **wished), scale)
    m = replace(m, mark=min(15.0, max(6.0, long / 41)), code=max(14.6, long / 20) if long > 250 else 14.0)
    m = replace(m, header=max(m.header, m.code + 5.5))
    inner = sheet.width_mm - 2 * m.beside_marks - m.lead - m.end
    height = sheet.height_mm - 2 * margin - m.header - m.footer
    low = m.height + m.family + m.label
    rows, columns = plan or (int(height / (low - TIGHTER * scale)), int((inner + m.gap) / (m.box + m.gap)))
    if rows < 1 or columns < 1:
        raise BadLayout(f"Not one box fits on {_said(sheet)}: take a larger sheet or a smaller margin.")
    box = (inner - (columns - 1) * m.gap) / columns
    pitch = min(height / rows, low + 18.0 * scale)
    m = replace(m, box=min(box, m.box * 1.7), columns=columns, rows=rows, pitch=pitch)
    return _stretched(replace(m, left=m.beside_marks, top=margin + m.header))


SCALES = tuple(round(2.0 - 0.1 * k, 1) for k in range(11))
"""Scales tried from the largest, 2, to 1."""


def most_room(
    sheet: Sheet, *, margin: float, boxes: int, plan: tuple[int, int] | None, digits: int
) -> Measures:
    """Work out the lengths with boxes as large as the sheet allows at no cost in pages.

    Sheets up to A4 keep to scale 1, where boxes have the size of the hand; larger ones grow with their side.
    """
    largest = max(1.0, (sheet.width_mm * sheet.height_mm / (210 * 297)) ** 0.5)
    first = measures_for(sheet, margin=margin, plan=plan, digits=digits)
    pages = -(-boxes // (first.rows * first.columns))
    for scale in (s for s in SCALES if 1.0 < s <= largest):
        try:
            m = measures_for(sheet, margin=margin, scale=scale, plan=plan, digits=digits)
        except BadLayout:
            continue
        if m.rows * m.columns * pages >= boxes:
            return m
    return first


def _scaled(m: Measures, scale: float) -> Measures:
    if scale == 1.0:
        return m
    grown = (
        "line",
        "above_line",
        "below_line",
        "graded",
        "family",
        "label",
        "number",
        "beside_number",
        "box",
    )
    lengths = {name: round(getattr(m, name) * scale, 3) for name in grown}
    gentle = scale**0.5
    return replace(
        m, **lengths, bare=m.bare * gentle, header=m.header * gentle, footer=m.footer * gentle, type=scale
    )


def _stretched(m: Measures) -> Measures:
    """Give the height left over to the graded stroke and to the label; refuse what cannot be read."""
    over = m.pitch - m.height - m.family - m.label
    if over < 0:
        spared = min(-over, TIGHTER * m.type)
        m = replace(m, label=m.label - spared)
        over += spared
    if over < -1e-9 or m.box < LEAST_MASSTONE[0] + 2 * CLEAR:
        raise BadLayout(
            f"{m.rows} rows of {m.columns} boxes do not fit on {_said(m.sheet)}: "
            "take a larger sheet, turn it, or split the plan over two charts."
        )
    graded = min(0.55 * over, m.graded * 0.8)
    return replace(m, graded=m.graded + graded, label=m.label + min(over - graded, 10.0 * m.type))


def _said(sheet: Sheet) -> str:
    return f"{sheet.name or 'a sheet'} ({sheet.width_mm:g} x {sheet.height_mm:g} mm)"
