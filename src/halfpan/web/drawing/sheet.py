"""A chart's sheet as it will be printed: the same ink that goes into the PDF, as SVG."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from halfpan.core.chart.ink import POINT, ChartSheet, Face, Fill, Frame, Ink, Rule, Words
from halfpan.core.chart.sheet import Rect
from halfpan.files.words import say

FACES: dict[Face, str] = {
    "serif": "serif",
    "serif bold": "serif bold",
    "serif italic": "serif it",
    "sans": "sans",
    "sans bold": "sans bold",
}


def sheet_pictures(sheet: ChartSheet) -> list[Markup]:
    """Return one SVG a page, in mm."""
    paper, count = sheet.sheet, len(sheet.ink)
    return [
        Markup(
            '<svg class="page" viewBox="0 0 {} {}" role="img" aria-label="{}">'
            '<rect width="100%" height="100%" fill="#fff"/>{}</svg>'
        ).format(
            f"{paper.width_mm:g}",
            f"{paper.height_mm:g}",
            say("charts.page_alt", page=number, count=count, title=sheet.title),
            _drawn(ink),
        )
        for number, ink in enumerate(sheet.ink, 1)
    ]


def _drawn(ink: Sequence[Ink]) -> Markup:
    return Markup("").join(_one(item) for item in ink)


def _one(item: Ink) -> Markup:
    if isinstance(item, Fill):
        shape = "".join(_outline(rect) for rect in item.rects)
        return Markup('<path d="{}" fill="{}"/>').format(shape, "#fff" if item.white else "#000")
    if isinstance(item, Frame):
        return Markup('<path class="{}" d="{}" stroke-width="{:.2f}"/>').format(
            "dash" if item.dash else "frame", _outline(item.rect), item.weight * POINT
        )
    if isinstance(item, Rule):
        return Markup('<path class="frame" d="M{:.2f} {:.2f}L{:.2f} {:.2f}" stroke-width="{:.2f}"/>').format(
            item.x0, item.y0, item.x1, item.y1, item.weight * POINT
        )
    if isinstance(item, Words):
        return _words(item)
    return Markup('<path class="frame" d="{}" stroke-width="0.2"/>').format(_outline(item.rect))


def _words(item: Words) -> Markup:
    return Markup(
        '<text class="{}" x="{:.2f}" y="{:.2f}" font-size="{:.2f}" textLength="{:.2f}" fill="{}">{}</text>'
    ).format(
        FACES[item.face],
        item.x,
        item.y,
        item.size * POINT,
        max(item.width, 0.1),
        "#fff" if item.white else "#000",
        item.text,
    )


def _outline(rect: Rect) -> str:
    return f"M{rect.x:.2f} {rect.y:.2f}h{rect.width:.2f}v{rect.height:.2f}h{-rect.width:.2f}z"
