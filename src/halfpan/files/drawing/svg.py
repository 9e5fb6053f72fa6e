"""The few parts of SVG that pictures here are made of; all grey but for paint, all text escaped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from xml.sax.saxutils import escape, quoteattr

INK, SECOND, RULE, HAIR, SHEET, WELL = "#141414", "#484848", "#7f7f7f", "#c6c6c6", "#f6f6f6", "#ffffff"
SERIF = "Source Serif Pro,Georgia,serif"
SANS = "Source Sans Pro,Segoe UI,sans-serif"


def tag(name: str, attributes: Mapping[str, object], inside: str = "") -> str:
    """Return one element; attribute names take ``_`` for ``-``, numbers are written with two decimals."""
    told = "".join(
        f" {key.replace('_', '-')}={quoteattr(_value(value))}" for key, value in attributes.items()
    )
    return f"<{name}{told}>{inside}</{name}>" if inside else f"<{name}{told}/>"


def words(
    text: str, x: float, y: float, *, size: float, serif: bool = False, anchor: str = "start", fill: str = INK
) -> str:
    """Return a line of text, its base line at y."""
    family = SERIF if serif else SANS
    return tag(
        "text",
        {"x": x, "y": y, "font_size": size, "font_family": family, "text_anchor": anchor, "fill": fill},
        escape(text),
    )


def picture(width: float, height: float, title: str, told: str, parts: Iterable[str]) -> str:
    """Return a whole SVG document; ``told`` says in words what it shows."""
    head = tag("title", {}, escape(title)) + tag("desc", {}, escape(told))
    sheet = tag("rect", {"width": width, "height": height, "fill": SHEET})
    frame = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {_value(width)} {_value(height)}",
        "width": width,
        "height": height,
        "role": "img",
    }
    return tag("svg", frame, head + sheet + "".join(parts)) + "\n"


def _value(value: object) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)
