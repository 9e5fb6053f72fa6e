"""A read chart as it is looked over: each photo with its boxes in it, what is doubtful first, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import Connection

from halfpan.collection import charts, page_reads, readings, swatches
from halfpan.collection.charts import KeptChart
from halfpan.collection.page_reads import PageRead
from halfpan.collection.readings import KeptReading
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.chart.sheet import Box, Rect
from halfpan.core.measuring.flatten import from_points, to_picture
from halfpan.core.paint.reading import Light, Unread
from halfpan.studio.cut_crops import PhotoView, box_area, moved_by, photo_view
from halfpan.studio.keep_page import DOUBTFUL
from halfpan.studio.measuring import sheet_corners
from halfpan.studio.studio import Studio

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class ReviewBox:
    """One box in a photo. ``outline`` are its corners as (col, row) in pixels, ``size_mm`` its sides."""

    box: Box
    outline: Points
    size_mm: tuple[float, float]
    readings: tuple[KeptReading, ...]
    swatch: KeptSwatch | None
    unread: str

    @property
    def waiting(self) -> tuple[KeptReading, ...]:
        """The readings that nobody has looked at."""
        return tuple(one for one in self.readings if one.reading.state == "to review")

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why a person should look, in the reader's words."""
        flags = [flag for one in self.waiting for flag in one.reading.flags if flag in DOUBTFUL]
        return tuple(dict.fromkeys(flags))

    @property
    def spare(self) -> bool:
        """Whether something was read in a box that is for no paint yet."""
        return bool(self.readings) and self.box.paint is None and not self.box.mix

    @property
    def doubtful(self) -> bool:
        """Whether it needs the painter's eye before it counts."""
        return bool(self.waiting) and (bool(self.reasons) or self.spare)

    @property
    def within(self) -> float:
        """The widest 95 % radius of its readings, CIEDE2000."""
        return max((one.reading.within_delta_e00 for one in self.readings), default=0.0)


@dataclass(frozen=True, slots=True)
class ReviewSheet:
    """One photo of one page. ``corners`` of the sheet are (col, row) in pixels of the original."""

    page_read: int
    page: int
    photo: str
    view: PhotoView
    read: datetime
    light: Light
    corners: Points
    boxes: tuple[ReviewBox, ...]
    unread: tuple[Unread, ...]

    @property
    def doubtful(self) -> tuple[ReviewBox, ...]:
        """The boxes to look at, worst first."""
        found = [one for one in self.boxes if one.doubtful]
        return tuple(sorted(found, key=lambda one: (-len(one.reasons), -one.within)))

    @property
    def sure(self) -> tuple[ReviewBox, ...]:
        """The boxes that wait only for a word."""
        return tuple(one for one in self.boxes if one.waiting and not one.doubtful)

    @property
    def accepted(self) -> tuple[ReviewBox, ...]:
        """The boxes whose readings count."""
        return tuple(one for one in self.boxes if one.readings and not one.waiting)


def see_review(studio: Studio, chart: str) -> tuple[KeptChart, tuple[ReviewSheet, ...]]:
    """Return a chart and its photos, each page's latest read, as a review shows them.

    Raises
    ------
    UnknownChart, UnreadablePhoto
    """
    with studio.look() as db:
        kept = charts.find(db, chart)
        reads = [one for one in page_reads.of_chart(db, kept.chart.chart) if one.photo]
    sheets = []
    for page in sorted({one.page for one in reads}):
        with studio.look() as db:
            own = _standing(db, [one for one in reads if one.page == page])
        view = photo_view(studio, own[-1].id)
        with studio.look() as db:
            sheets.append(_sheet(db, kept, own, view))
    return kept, tuple(sheets)


def _standing(db: Connection, reads: list[PageRead]) -> list[PageRead]:
    """Return the reads of a page of which something still stands; all of them where nothing does."""
    standing = [
        read
        for read in reads
        if any(one.reading.state != "set aside" for one in readings.listed(db, page_read=read.id))
    ]
    return standing or reads


def _in_pixels(places: NDArray[np.float64]) -> Points:
    return tuple((round(float(col), 1), round(float(row), 1)) for row, col in places)


def _sheet(db: Connection, kept: KeptChart, reads: list[PageRead], view: PhotoView) -> ReviewSheet:
    """Return the latest read of a page; a box that only an earlier read holds is shown from that one."""
    read = reads[-1]
    size = (kept.chart.sheet.width_mm, kept.chart.sheet.height_mm)
    whole = ((0, 0), (0, view.cols), (view.rows, view.cols), (view.rows, 0))
    places = np.array(read.corners or whole, dtype=np.float64)
    flattening = from_points(sheet_corners(size), places)
    page = kept.chart.page(read.page)
    boxes = page.boxes if page else ()
    held: dict[str, tuple[KeptReading, ...]] = {}
    told: dict[str, KeptSwatch] = {}
    moved = dict(read.by_hand.moved)
    for one_read in reads:
        found = [
            one for one in readings.listed(db, page_read=one_read.id) if one.reading.state != "set aside"
        ]
        for name in {one.reading.box for one in found}:
            held[name] = tuple(one for one in found if one.reading.box == name)
            if one_read.photo == read.photo:
                moved[name] = one_read.by_hand.moved.get(name, (0.0, 0.0))
        told |= {
            one.swatch.box: one
            for one in swatches.listed(db, page_read=one_read.id)
            if one.state != "set aside"
        }
    unread = {one.box: one.reason for one in read.unread}

    def outline(rect: Rect) -> Points:
        x, y, right, bottom = rect.x, rect.y, rect.right, rect.bottom
        points = np.array([(x, y), (right, y), (right, bottom), (x, bottom)])
        return _in_pixels(to_picture(flattening, points))

    return ReviewSheet(
        page_read=read.id,
        page=read.page,
        photo=read.photo or "",
        view=view,
        read=read.read,
        light=read.light,
        corners=_in_pixels(places),
        boxes=tuple(
            ReviewBox(
                box=box,
                outline=outline(area := moved_by(box_area(box, boxes), moved.get(box.box, (0.0, 0.0)))),
                size_mm=(round(area.width, 2), round(area.height, 2)),
                readings=held.get(box.box, ()),
                swatch=told.get(box.box),
                unread=unread.get(box.box, ""),
            )
            for box in boxes
        ),
        unread=read.unread,
    )
