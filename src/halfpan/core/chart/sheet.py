"""A chart as things in millimetres: sheet, pages, boxes, strokes, zones and marks.

Origin at the top left of the page, x across, y down. ``chart_to_dict`` and ``dict_to_chart`` are the one
way between these values and the ``chart.json`` document other programs rely on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

Towards = Literal["right", "left", "down", "up"]
Ground = Literal["paper", "black"]


@dataclass(frozen=True, slots=True)
class Rect:
    """An upright rectangle, all in mm."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The x of the right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """The y of the lower edge."""
        return self.y + self.height

    def inset(self, by: float) -> Rect:
        """Return the rectangle with ``by`` mm taken off every side."""
        return Rect(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)

    def contains(self, other: Rect, slack: float = 1e-6) -> bool:
        """Say whether ``other`` lies inside."""
        return (
            self.x <= other.x + slack
            and self.y <= other.y + slack
            and self.right >= other.right - slack
            and self.bottom >= other.bottom - slack
        )

    def overlaps(self, other: Rect) -> bool:
        """Say whether the two share any area."""
        return (
            self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom
        )


@dataclass(frozen=True, slots=True)
class Sheet:
    """Paper by its size; names of sizes are not reliable, millimetres are."""

    width_mm: float
    height_mm: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
    """A printed corner mark: its id and its corners clockwise from its own top left, in mm."""

    id: int
    corners: tuple[tuple[float, float], tuple[float, float], tuple[float, float], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Stroke:
    """Where the painter paints: full strength, or graded from full strength ``towards`` bare paper.

    ``load`` is the share of full strength asked for (a step of a water ladder); strokes of one box that lie
    over one another are coats, each painted on the dry one before.
    """

    rect: Rect
    strength: Literal["full", "graded"]
    towards: Towards | None = None
    load: float = 1.0


@dataclass(frozen=True, slots=True)
class Zone:
    """Where Halfpan reads. ``ground`` is what lies under the paint there."""

    zone: str
    rect: Rect
    ground: Ground | None = None
    towards: Towards | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """One paint of a mix and how many parts of it."""

    paint: str
    parts: float


@dataclass(frozen=True, slots=True)
class Box:
    """One box: its name on the page, the paint it is for (or none: a spare box), strokes and zones.

    ``mix`` holds the parts where a mix is asked for; ``paint`` is then none.
    """

    box: str
    paint: str | None
    label: str
    strokes: tuple[Stroke, ...]
    zones: tuple[Zone, ...]
    mix: tuple[Part, ...] = ()

    def zone(self, name: str) -> Zone | None:
        """Return the first zone of that name, or none."""
        return next((zone for zone in self.zones if zone.zone == name), None)


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet of a chart. ``printed`` are the areas that carry ink: lines, grounds, texts, marks, code."""

    page: int
    marks: tuple[Mark, ...]
    boxes: tuple[Box, ...]
    printed: tuple[Rect, ...] = ()


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart: one kind of sheet over one or more pages. ``extra``: keys of the document unknown here."""

    chart: str
    kind: str
    sheet: Sheet
    pages: tuple[Page, ...]
    extra: Mapping[str, Any] = field(default_factory=dict)

    def page(self, number: int) -> Page | None:
        """Return the page of that number, or none."""
        return next((page for page in self.pages if page.page == number), None)


def _rect_to_list(rect: Rect) -> list[float]:
    return [round(v, 3) for v in (rect.x, rect.y, rect.width, rect.height)]


def _without_none(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value is not None}


def _stroke_to_dict(stroke: Stroke) -> dict[str, Any]:
    return _without_none(
        {
            "rect_mm": _rect_to_list(stroke.rect),
            "strength": stroke.strength,
            "towards": stroke.towards,
            "load": stroke.load if stroke.load != 1.0 else None,
        }
    )


def _box_to_dict(box: Box) -> dict[str, Any]:
    mix = {"mix": [{"paint": part.paint, "parts": part.parts} for part in box.mix]} if box.mix else {}
    return mix | {
        "box": box.box,
        "paint": box.paint,
        "label": box.label,
        "strokes": [_stroke_to_dict(stroke) for stroke in box.strokes],
        "zones": [
            _without_none(
                {"zone": z.zone, "rect_mm": _rect_to_list(z.rect), "ground": z.ground, "towards": z.towards}
            )
            for z in box.zones
        ],
    }


def chart_to_dict(chart: Chart) -> dict[str, Any]:
    """Return the ``chart.json`` document of a chart."""
    return {
        **chart.extra,
        "chart": chart.chart,
        "kind": chart.kind,
        "sheet": {
            "name": chart.sheet.name,
            "width_mm": chart.sheet.width_mm,
            "height_mm": chart.sheet.height_mm,
        },
        "pages": [
            {
                "page": page.page,
                "marks": [
                    {"id": m.id, "corners_mm": [[round(x, 3), round(y, 3)] for x, y in m.corners]}
                    for m in page.marks
                ],
                "boxes": [_box_to_dict(box) for box in page.boxes],
                "printed_mm": [_rect_to_list(rect) for rect in page.printed],
            }
            for page in chart.pages
        ],
    }


def _dict_to_box(box: Mapping[str, Any]) -> Box:
    return Box(
        box=box["box"],
        paint=box.get("paint"),
        label=box.get("label", ""),
        strokes=tuple(
            Stroke(Rect(*s["rect_mm"]), s["strength"], s.get("towards"), s.get("load", 1.0))
            for s in box["strokes"]
        ),
        zones=tuple(
            Zone(z["zone"], Rect(*z["rect_mm"]), z.get("ground"), z.get("towards")) for z in box["zones"]
        ),
        mix=tuple(Part(part["paint"], part["parts"]) for part in box.get("mix", ())),
    )


def _dict_to_mark(mark: Mapping[str, Any]) -> Mark:
    top_left, top_right, bottom_right, bottom_left = ((x, y) for x, y in mark["corners_mm"])
    return Mark(mark["id"], (top_left, top_right, bottom_right, bottom_left))


def _dict_to_page(page: Mapping[str, Any]) -> Page:
    return Page(
        page=page["page"],
        marks=tuple(_dict_to_mark(m) for m in page["marks"]),
        boxes=tuple(_dict_to_box(box) for box in page["boxes"]),
        printed=tuple(Rect(*rect) for rect in page.get("printed_mm", ())),
    )


def dict_to_chart(document: Mapping[str, Any]) -> Chart:
    """Return the chart of a ``chart.json`` document."""
    known = {"chart", "kind", "sheet", "pages"}
    sheet = document["sheet"]
    return Chart(
        chart=document["chart"],
        kind=document["kind"],
        sheet=Sheet(sheet["width_mm"], sheet["height_mm"], sheet.get("name", "")),
        pages=tuple(_dict_to_page(page) for page in document["pages"]),
        extra={key: value for key, value in document.items() if key not in known},
    )
