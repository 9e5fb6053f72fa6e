"""Printed marks and the printed code: which squares are black, and where the eight marks stand.

The marks are those of the open ArUco dictionary DICT_4X4_50; the code is a QR code (ISO/IEC 18004). Every
page carries the same eight marks, 0 to 3 in the corners clockwise from the top left, 4 to 7 at the sides,
so that a mark's number alone says where it belongs and which way up the sheet lies.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import segno

from halfpan.core.chart.ink import Fill
from halfpan.core.chart.sheet import Mark, Rect, Sheet

MODULES = 6
"""A mark is six squares wide, its black border counted."""

CODE_WORD = "HALFPAN"


def mark_at(number: int, x: float, y: float, side: float) -> Mark:
    """Return the mark of a number with its top left corner at ``x, y``."""
    return Mark(number, ((x, y), (x + side, y), (x + side, y + side), (x, y + side)))


def eight_marks(sheet: Sheet, *, margin: float, side: float, lines: Sequence[float]) -> tuple[Mark, ...]:
    """Place four marks in the corners and four at the sides.

    A sheet that stands upright has two at each long side; one that lies has one in the middle of each side.

    Parameters
    ----------
    sheet : the paper
    margin, side : room around the page and width of a mark, mm
    lines : the middle of each black line, mm from the top; side marks stand level with one where one is near
    """
    right, foot = sheet.width_mm - margin - side, sheet.height_mm - margin - side
    corners = [(margin, margin), (right, margin), (right, foot), (margin, foot)]
    if sheet.height_mm >= sheet.width_mm:
        upper, lower = (_near(sheet.height_mm * part, lines, sheet) - side / 2 for part in (0.36, 0.66))
        others = [(right, upper), (right, lower), (margin, lower), (margin, upper)]
    else:
        level = _near(sheet.height_mm * 0.5, lines, sheet) - side / 2
        middle = (sheet.width_mm - side) / 2
        others = [(middle, margin), (right, level), (middle, foot), (margin, level)]
    return tuple(mark_at(k, x, y, side) for k, (x, y) in enumerate(corners + others))


def _near(wish: float, lines: Sequence[float], sheet: Sheet) -> float:
    best = min(lines, key=lambda line: abs(line - wish), default=wish)
    return best if abs(best - wish) < 0.13 * sheet.height_mm else wish


def mark_ink(mark: Mark) -> tuple[Fill, ...]:
    """Return a mark as a black square with its white squares left out."""
    (x, y), (right, _), *_ = mark.corners
    step = (right - x) / MODULES
    words = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    bits = cv2.aruco.generateImageMarker(words, mark.id, MODULES)
    white = tuple(
        Rect(x + column * step, y + row * step, step, step)
        for row in range(MODULES)
        for column in range(MODULES)
        if bits[row, column]
    )
    return Fill((Rect(x, y, right - x, right - x),)), Fill(white, white=True)


def code_text(chart_id: str, page: int) -> str:
    """Return what the printed code says: ``HALFPAN``, the chart, the page."""
    return f"{CODE_WORD} {chart_id} {page}"


def code_ink(text: str, x: float, y: float, side: float) -> Fill:
    """Return a QR code, error level M, with its black area filling ``side`` mm from the top left."""
    matrix = segno.make(text, error="m", micro=False, boost_error=False).matrix
    step = side / len(matrix)
    runs = []
    for row, squares in enumerate(matrix):
        start = None
        for column, black in enumerate([*squares, 0]):
            if black and start is None:
                start = column
            elif not black and start is not None:
                runs.append(Rect(x + start * step, y + row * step, (column - start) * step, step))
                start = None
    return Fill(tuple(runs))
