"""All that a studio can say of one paint, gathered for its page: picture, path, witnesses, kin, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import charts, stock, swatches, tins
from halfpan.collection.stock import Item
from halfpan.collection.swatches import KeptSwatch
from halfpan.collection.tins import KeptTin
from halfpan.core.arranging.likeness import Likeness, in_words, nearest
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.substitutes import Substitutes, find_substitutes
from halfpan.core.chart.sheet import Rect
from halfpan.core.paint.cautions import Caution, cautions
from halfpan.core.paint.contents import Contents, contents
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.core.paint.witness import Statement
from halfpan.studio.cut_crops import box_area
from halfpan.studio.find_paint import find_paint
from halfpan.studio.mix_log import Logged, logged_mixes
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.repeats import repeatability
from halfpan.studio.studio import Studio

WINDOWS = 6
MOST_KIN = 6


@dataclass(frozen=True, slots=True)
class Window:
    """One step of the ladder: a part of the crop, in shares of its width and height, and its colour."""

    x: float
    y: float
    width: float
    height: float
    lab: Lab


@dataclass(frozen=True, slots=True)
class Kin:
    """A paint that something joins to this one, how, and the same in words."""

    paint: Paint
    box: KeptSwatch | None
    likeness: Likeness
    words: str


@dataclass(frozen=True, slots=True)
class Place:
    """A box of a chart that is for this paint."""

    chart: str
    page: int
    box: str


@dataclass(frozen=True, slots=True)
class PaintSeen:
    """One paint as its page tells it. ``box`` is the swatch that counts or the latest to be looked at."""

    paint: Paint
    box: KeptSwatch | None
    windows: tuple[Window, ...]
    paths: tuple[tuple[Paint, tuple[Lab, ...]], ...]
    statements: tuple[Statement, ...]
    contents: Contents
    cautions: tuple[Caution, ...]
    kin: tuple[Kin, ...]
    substitutes: Substitutes
    measure: str
    others: dict[str, tuple[Paint, KeptSwatch | None]]
    items: tuple[Item, ...]
    places: tuple[Place, ...]
    tins: tuple[tuple[KeptTin, str], ...]
    mixes: tuple[tuple[Logged, str], ...]

    @property
    def doubtful(self) -> bool:
        """Whether its box was read and nobody has looked at the reading yet."""
        return self.box is not None and self.box.state != "accepted"


def see_paint(studio: Studio, text: str, everyone: Sequence[Painted] | None = None) -> PaintSeen:
    """Return what is known of the paint that an id or a name means.

    ``everyone`` are the paints it is held against, where they were gathered already.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        measure = repeatability(db)
        known = [one.paint for one in everyone or () if one.paint.id == text]
        paint = known[0] if known else find_paint(db, text)
        counting = swatches.counting(db)
        everyone = painted_paints(db) if everyone is None else everyone
        box = counting.get(paint.id) or _latest_to_review(db, paint.id)
        windows = _windows(db, box) if box else ()
        items = tuple(stock.listed(db, paint.id))
        places = tuple(Place(*place) for place in charts.with_paint(db, paint.id))
        sits = tuple(tins.holding(tins.listed(db), paint.id))
        own = next((one for one in everyone if one.paint.id == paint.id), None)
        own = own or painted_paints(db, [paint])[0]
    held = {one.paint.id: one.paint for one in everyone}
    alike = nearest(own, everyone, measure)[:MOST_KIN]
    kin = tuple(
        Kin(held[one.second], counting.get(one.second), one, in_words(one, measure))
        for one in (_turned(one, paint.id) for one in alike)
    )
    substitutes = find_substitutes(own, everyone, measure, most=3)
    near = [one.paint for one in kin] + [held[one.paint] for one in substitutes.found]
    return PaintSeen(
        paint=paint,
        box=box,
        windows=windows,
        paths=tuple(
            (one, counting[one.id].swatch.path)
            for one in dict.fromkeys(near)
            if one.id in counting and counting[one.id].swatch.path
        )[:3],
        statements=own.statements(),
        contents=contents(paint.name, paint.codes),
        cautions=cautions(paint),
        kin=kin,
        substitutes=substitutes,
        measure=measure.in_words(),
        others={one.id: (one, counting.get(one.id)) for one in near},
        items=items,
        places=places,
        tins=sits,
        mixes=_mixes(studio, paint.id),
    )


def _mixes(studio: Studio, paint: str) -> tuple[tuple[Logged, str], ...]:
    """Return the mixes of the log that a paint is in, newest first, each in words."""
    logged, names = logged_mixes(studio, paint=paint)
    return tuple(
        (one, " + ".join(f"{parts:g} {names.get(each, each)}" for each, parts in one.mix.parts))
        for one in logged
    )


def _turned(likeness: Likeness, paint: str) -> Likeness:
    """Return a likeness with this paint first."""
    if likeness.first == paint:
        return likeness
    return Likeness(
        likeness.kind,
        likeness.second,
        likeness.first,
        likeness.differences,
        likeness.hiding,
        likeness.one_light,
    )


def _latest_to_review(db: Connection, paint: str) -> KeptSwatch | None:
    waiting = swatches.listed(db, paint=paint, state="to review")
    return waiting[-1] if waiting else None


def _windows(db: Connection, kept: KeptSwatch) -> tuple[Window, ...]:
    """Return six steps along the graded stroke, from strong to thin."""
    path = kept.swatch.path
    if kept.chart is None or len(path) < 2:
        return ()
    found = [
        (box, page.boxes)
        for page in charts.find(db, kept.chart).chart.pages
        for box in page.boxes
        if box.box == kept.swatch.box and kept.page in {None, page.page}
    ]
    if not found:
        return ()
    (box, boxes) = found[0]
    zone = box.zone("graded")
    return () if zone is None else _steps(box_area(box, boxes), zone.rect, zone.towards or "down", path)


def _steps(area: Rect, rect: Rect, towards: str, path: tuple[Lab, ...]) -> tuple[Window, ...]:
    count = min(WINDOWS, len(path))
    level = towards in {"right", "left"}
    length, across = (rect.width, rect.height) if level else (rect.height, rect.width)
    size = length / count
    windows = []
    for k in range(count):
        turn = k if towards in {"right", "down"} else count - 1 - k
        x = rect.x + turn * size if level else rect.x
        y = rect.y if level else rect.y + turn * size
        width, height = (size, across) if level else (across, size)
        lab = path[round((k + 0.5) * len(path) / count - 0.5)]
        windows.append(
            Window(
                (x - area.x) / area.width,
                (y - area.y) / area.height,
                width / area.width,
                height / area.height,
                lab,
            )
        )
    return tuple(windows)
