"""Draw the ink of a chart into a PDF document. Nothing is worked out here: it comes with the chart."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from io import BytesIO
from pathlib import Path
from types import MappingProxyType
from typing import Any

from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from halfpan.core.chart.ink import POINT, ChartSheet, Fill, Frame, Ink, Picture, Rule, Words
from halfpan.core.chart.sheet import Chart, Rect, chart_to_dict
from halfpan.errors import Unwritable
from halfpan.files.pdf.fonts import font_name, register_fonts
from halfpan.files.whole import write_whole

DASH, SPACE = 1.0, 0.8
"""Wished lengths of a dash and of the space after it, mm; stretched so that every corner is a dash."""


def chart_pdf(sheet: ChartSheet, pictures: Mapping[str, bytes] = MappingProxyType({})) -> bytes:
    """Return the PDF document of a chart, byte for byte the same for the same chart.

    Parameters
    ----------
    sheet : the chart and its drawing
    pictures : encoded pictures (JPEG or PNG) for the rooms the drawing leaves, by name
    """
    register_fonts()
    paper = sheet.sheet
    written = BytesIO()
    canvas = Canvas(
        written,
        pagesize=(paper.width_mm / POINT, paper.height_mm / POINT),
        invariant=1,
        initialFontName=font_name("sans"),
    )
    canvas.setTitle(sheet.title)
    canvas.setCreator("Halfpan")
    canvas.setProducer("Halfpan")
    canvas.setViewerPreference("PrintScaling", "None")
    for ink in sheet.ink:
        _draw_page(canvas, ink, paper.height_mm, pictures)
        canvas.showPage()
    canvas.save()
    return written.getvalue()


def write_chart(
    pdf: Path, sheet: ChartSheet, chart: Chart, pictures: Mapping[str, bytes] = MappingProxyType({})
) -> Path:
    """Write a chart's PDF and, beside it, its geometry as ``.json``; return the path of the geometry.

    Raises
    ------
    Unwritable
        When either cannot be written, or the PDF was to have the geometry's own name.
    """
    geometry = pdf.with_suffix(".json")
    if geometry == pdf:
        raise Unwritable(f"{pdf} is the name of the chart's geometry; end the name of the print in .pdf.")
    write_whole(pdf, chart_pdf(sheet, pictures))
    write_whole(geometry, json.dumps(chart_to_dict(chart), ensure_ascii=False, indent=1).encode())
    return geometry


def _draw_page(canvas: Any, ink: Sequence[Ink], height_mm: float, pictures: Mapping[str, bytes]) -> None:
    """Draw one page; the ink counts down from the top, the document up from the foot."""
    canvas.setLineCap(0)
    for item in ink:
        if isinstance(item, Fill):
            _fill(canvas, item, height_mm)
        elif isinstance(item, Words):
            _words(canvas, item, height_mm)
        elif isinstance(item, Picture):
            _picture(canvas, item, height_mm, pictures)
        elif isinstance(item, Rule):
            _stroke(canvas, item.weight, [(item.x0, item.y0, item.x1, item.y1)], height_mm)
        elif item.dash:
            _stroke(canvas, item.weight, _dashes(item), height_mm)
        else:
            _stroke(canvas, item.weight, _outline(item.rect, item.weight * POINT / 2), height_mm)


def _fill(canvas: Any, item: Fill, height_mm: float) -> None:
    canvas.setFillGray(1 if item.white else 0)
    path = canvas.beginPath()
    for r in _halves(item.rects):
        path.rect(r.x / POINT, (height_mm - r.bottom) / POINT, r.width / POINT, r.height / POINT)
    canvas.drawPath(path, stroke=0, fill=1)


def _halves(rects: tuple[Rect, ...]) -> tuple[Rect, ...]:
    """Cut a single area in two within one path: viewers move the edges of a lone one to whole pixels."""
    if len(rects) != 1:
        return rects
    (r,) = rects
    half = r.width / 2
    return Rect(r.x, r.y, half, r.height), Rect(r.x + half, r.y, r.width - half, r.height)


def _words(canvas: Any, item: Words, height_mm: float) -> None:
    canvas.setFillGray(1 if item.white else 0)
    canvas.setFont(font_name(item.face), item.size)
    canvas.drawString(item.x / POINT, (height_mm - item.y) / POINT, item.text)


def _picture(canvas: Any, item: Picture, height_mm: float, pictures: Mapping[str, bytes]) -> None:
    """Fill a room with the middle of its picture, or leave it empty."""
    data = pictures.get(item.name)
    if data is None:
        return
    image = ImageReader(BytesIO(data))
    wide, high = image.getSize()
    r = item.rect
    grow = max(r.width / wide, r.height / high)
    left, low = r.x + (r.width - wide * grow) / 2, r.bottom - (r.height - high * grow) / 2
    canvas.saveState()
    room = canvas.beginPath()
    room.rect(r.x / POINT, (height_mm - r.bottom) / POINT, r.width / POINT, r.height / POINT)
    canvas.clipPath(room, stroke=0, fill=0)
    at = (left / POINT, (height_mm - low) / POINT, wide * grow / POINT, high * grow / POINT)
    canvas.drawImage(image, *at)
    canvas.restoreState()


Line = tuple[float, float, float, float]


def _stroke(canvas: Any, weight: float, lines: Sequence[Line], height_mm: float) -> None:
    canvas.setStrokeGray(0)
    canvas.setLineWidth(weight)
    canvas.lines(
        [
            (x0 / POINT, (height_mm - y0) / POINT, x1 / POINT, (height_mm - y1) / POINT)
            for x0, y0, x1, y1 in lines
        ]
    )


def _outline(r: Rect, out: float) -> list[Line]:
    """Four sides; the level ones reach over the corners by half the weight."""
    return [
        (r.x - out, r.y, r.right + out, r.y),
        (r.x - out, r.bottom, r.right + out, r.bottom),
        (r.x, r.y, r.x, r.bottom),
        (r.right, r.y, r.right, r.bottom),
    ]


def _dashes(frame: Frame) -> list[Line]:
    """Dash an outline, each side on its own so that every corner and every end is a dash."""
    r = frame.rect
    lines = [(a, y, b, y) for y in (r.y, r.bottom) for a, b in _dashed(r.x, r.right)]
    start, stop = frame.gap or (r.bottom, r.bottom)
    spans = [(r.y, start), (stop, r.bottom)] if frame.gap else [(r.y, r.bottom)]
    lines += [
        (x, a, x, b)
        for x in (r.x, r.right)
        for low, high in spans
        if high > low
        for a, b in _dashed(low, high)
    ]
    return lines


def _dashed(start: float, stop: float) -> list[tuple[float, float]]:
    """Cut a length into dashes that begin at its start and end at its end."""
    length = stop - start
    count = max(1, round((length + SPACE) / (DASH + SPACE)))
    if count == 1:
        return [(start, stop)]
    step = (length - DASH) / (count - 1)
    return [(start + k * step, start + k * step + DASH) for k in range(count)]
