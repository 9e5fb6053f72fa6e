"""A chart's sheet as it will be printed: the same ink that goes into the PDF, as SVG."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from markupsafe import Markup

from halfpan.core.chart.ink import POINT, ChartSheet, Face, Fill, Frame, Ink, Picture, Rule, Words
from halfpan.core.chart.sheet import Rect
from halfpan.core.chart.tin_sheet import CARD_RECT
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
            '<svg class="page ruled" viewBox="0 0 {} {}" role="img" aria-label="{}">'
            '<rect width="100%" height="100%" fill="#fff"/>{}</svg>'
        ).format(
            f"{paper.width_mm:g}",
            f"{paper.height_mm:g}",
            say("charts.page_alt", page=number, count=count, title=sheet.title),
            _drawn(ink),
        )
        for number, ink in enumerate(sheet.ink, 1)
    ]


def card_picture(sheet: ChartSheet, label: str, pictures: Mapping[str, str]) -> Markup:
    """Return the lid card alone, as wide as it is printed; ``pictures`` are addresses of crops, by paint."""
    x, y, width, height = sheet.chart.extra[CARD_RECT]
    return Markup(
        '<svg class="card ruled" width="{}mm" viewBox="{}" role="img" aria-label="{}">'
        '<rect x="{}" y="{}" width="100%" height="100%" fill="#fff"/>{}</svg>'
    ).format(f"{width:g}", f"{x:g} {y:g} {width:g} {height:g}", label, x, y, _drawn(sheet.ink[0], pictures))


def _drawn(ink: Sequence[Ink], pictures: Mapping[str, str] = MappingProxyType({})) -> Markup:
    return Markup("").join(_one(item, pictures) for item in ink)


def _one(item: Ink, pictures: Mapping[str, str]) -> Markup:
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
    return _picture(item, pictures.get(item.name, ""))


def _picture(item: Picture, address: str) -> Markup:
    """Return a box cut from a photo, the part of it that is paint alone."""
    if not address:
        return Markup('<path class="frame" d="{}" stroke-width="0.2"/>').format(_outline(item.rect))
    place = Markup('x="{:.2f}" y="{:.2f}" width="{:.2f}" height="{:.2f}"').format(
        item.rect.x, item.rect.y, item.rect.width, item.rect.height
    )
    return Markup(
        '<svg {} viewBox="0 0 212 318" preserveAspectRatio="xMidYMid slice">'
        '<image href="{}" width="212" height="318" preserveAspectRatio="none"/></svg>'
    ).format(place, address)


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
