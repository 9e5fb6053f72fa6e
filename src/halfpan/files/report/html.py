"""Write a report as one HTML file. All text is escaped; pictures and letters are inside the file."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable
from html import escape
from importlib.resources import files
from itertools import groupby
from pathlib import Path

from halfpan.files.report.matter import Figure, Matter, Plot, Report, Section, Table, Tile, Wall, Words
from halfpan.files.whole import write_whole
from halfpan.files.words import LANGUAGE, say

_LETTERS = (
    ("Halfpan Serif", "serif-semibold-latin", "font-weight:600"),
    ("Halfpan Serif", "serif-italic-latin", "font-weight:400;font-style:italic"),
    ("Halfpan Sans", "sans-regular-latin", "font-weight:400"),
    ("Halfpan Sans", "sans-semibold-latin", "font-weight:600"),
)
MARK = (
    '<svg viewBox="0 0 21 26" aria-hidden="true"><rect x="1" y="1" width="19" height="24" rx="2" fill="none" '
    'stroke="currentColor" stroke-width="1.6"/><path d="M1 9h19" stroke="currentColor" stroke-width="4.2"/>'
    "</svg>"
)
_KINDS = {b"\x89PNG": "png", b"\xff\xd8\xff\xe0": "jpeg", b"\xff\xd8\xff\xe1": "jpeg", b"RIFF": "webp"}
_REACH = 110.0


def write_report(path: Path, report: Report) -> None:
    """Write a report as one HTML file; the file is whole or not there at all."""
    write_whole(path, report_html(report).encode())


def report_html(report: Report) -> str:
    """Return a report as an HTML document."""
    sections = "".join(map(_section, report.sections))
    return (
        f'<!doctype html>\n<html lang="{LANGUAGE}"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{escape(report.title)} · Halfpan</title><style>{letters()}{_style()}</style></head><body>"
        f'<div class="top">{MARK}Halfpan</div><main><div class="head"><h1>{escape(report.title)}</h1>'
        f'<p class="lead">{escape(report.lead)}</p></div>{sections}</main>'
        f"<footer>{escape(report.foot)}</footer></body></html>\n"
    )


def _style() -> str:
    return files("halfpan.files.report").joinpath("report.css").read_text(encoding="utf-8")


def letters() -> str:
    """Return the letters of the studio page as part of the style."""
    faces = []
    for family, name, more in _LETTERS:
        data = files("halfpan").joinpath("web", "static", "fonts", f"{name}.woff2").read_bytes()
        source = f"url(data:font/woff2;base64,{b64encode(data).decode()})"
        faces.append(f'@font-face{{font-family:"{family}";{more};src:{source} format("woff2")}}')
    return "".join(faces)


def image(picture: bytes, alt: str) -> str:
    """Return a picture as part of the page."""
    kind = _KINDS.get(picture[:4], "jpeg")
    return f'<img src="data:image/{kind};base64,{b64encode(picture).decode()}" alt="{escape(alt)}">'


def _section(section: Section) -> str:
    note = f"<p>{escape(section.note)}</p>" if section.note else ""
    groups = groupby(section.matter, key=type)
    inside = "".join(_group(kind, list(parts)) for kind, parts in groups)
    heading = f"<header><h2>{escape(section.heading)}</h2>{note}</header>"
    return f'<section class="sec">{heading}<div class="matter">{inside}</div></section>'


def _group(kind: type, parts: list[Matter]) -> str:
    inside = "".join(_WRITERS[kind](part) for part in parts)
    around = {Wall: "walls", Figure: "figures"}.get(kind)
    return f'<div class="{around}">{inside}</div>' if around else inside


def _wall(wall: Wall) -> str:
    note = f'<p class="cap">{escape(wall.note)}</p>' if wall.note else ""
    tiles = "".join(map(_tile, wall.tiles))
    return f'<div class="wall"><h3>{escape(wall.heading)}</h3><ul>{tiles}</ul>{note}</div>'


def _tile(tile: Tile) -> str:
    said = "".join(f"<span{_first(k, tile)}>{escape(line)}</span>" for k, line in enumerate(tile.said))
    picture = image(tile.picture, tile.alt or tile.name)
    doubtful = " doubtful" if tile.doubtful else ""
    return f'<li class="tile{doubtful}">{picture}<div><b>{escape(tile.name)}</b>{said}</div></li>'


def _first(k: int, tile: Tile) -> str:
    """Return the mark of the line that carries the reading: the one after what the paint is."""
    return ' class="read"' if k == 1 and len(tile.said) > 1 else ""


def _figure(figure: Figure) -> str:
    caption = f'<figcaption class="cap">{escape(figure.caption)}</figcaption>' if figure.caption else ""
    return f"<figure>{image(figure.picture, figure.alt)}{caption}</figure>"


def _table(table: Table) -> str:
    right = [heading in table.numbers for heading in table.headings]
    heads = "".join(
        f"<th{_right(r)} scope=col>{escape(h)}</th>" for h, r in zip(table.headings, right, strict=True)
    )
    rows = []
    for row in table.rows:
        cells = zip(row, table.headings, right, strict=True)
        inside = "".join(f'<td{_right(r)} data-h="{escape(h)}">{escape(cell)}</td>' for cell, h, r in cells)
        rows.append(f"<tr>{inside}</tr>")
    note = f'<p class="cap">{escape(table.note)}</p>' if table.note else ""
    return (
        f'<div class="wide"><table class="stack"><thead><tr>{heads}</tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table>{note}</div>"
    )


def _right(right: bool) -> str:
    return ' class="n"' if right else ""


def _words(words: Words) -> str:
    text = f"<p>{escape(words.text)}</p>" if words.text else ""
    terms = "".join(f"<dt>{escape(term)}</dt><dd>{escape(told)}</dd>" for term, told in words.terms)
    return text + (f"<dl>{terms}</dl>" if terms else "")


def _plot(plot: Plot) -> str:
    grid = "".join(
        f'<line{_axis(v)} x1="{v}" x2="{v}" y1="{-_REACH}" y2="{_REACH}"/>'
        f'<line{_axis(v)} y1="{v}" y2="{v}" x1="{-_REACH}" x2="{_REACH}"/>'
        for v in range(-100, 101, 25)
    )
    dots = "".join(
        f'<circle cx="{d.x:.1f}" cy="{-d.y:.1f}" r="2.6" fill="{d.colour}" stroke-width=".4">'
        f"<title>{escape(d.name)}</title></circle>"
        for d in plot.dots
    )
    truths = "".join(
        f'<line class="off" stroke-width=".5" x1="{d.x:.1f}" y1="{-d.y:.1f}" '
        f'x2="{d.true[0]:.1f}" y2="{-d.true[1]:.1f}"/>'
        f'<circle class="true" stroke-width=".5" cx="{d.true[0]:.1f}" cy="{-d.true[1]:.1f}" r="3.6"/>'
        for d in plot.dots
        if d.true is not None
    )
    words = (
        f'<text x="{_REACH - 3}" y="{_REACH - 4}" text-anchor="end">{escape(say("paint.axis_a"))}</text>'
        f'<text x="{3 - _REACH}" y="{-_REACH + 8}">{escape(say("paint.axis_b"))}</text>'
    )
    note = f'<p class="cap">{escape(plot.note)}</p>' if plot.note else ""
    box = f"{-_REACH} {-_REACH} {2 * _REACH} {2 * _REACH}"
    return (
        f'<div class="plot"><svg viewBox="{box}" role="img" aria-label="{escape(plot.note)}" '
        f'font-size="5">{grid}{truths}{dots}{words}</svg>{note}</div>'
    )


def _axis(v: int) -> str:
    return ' class="axis" stroke-width=".5"' if v == 0 else ' stroke-width=".3"'


_WRITERS: dict[type, Callable[..., str]] = {
    Wall: _wall,
    Figure: _figure,
    Table: _table,
    Words: _words,
    Plot: _plot,
    Tile: _tile,
}
