"""Measure one picture with all that the studio knows: chart, paper, target, device, boxes known already."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
from sqlalchemy import Connection

from halfpan.collection import charts, devices, papers, readings
from halfpan.collection.charts import KeptChart
from halfpan.core.chart.sheet import Page
from halfpan.core.measuring.boxes import read_boxes
from halfpan.core.measuring.flatten import Flattening, from_points, to_picture
from halfpan.core.measuring.locate import Located, locate
from halfpan.core.measuring.page import Reference, respond, see_page
from halfpan.core.measuring.photo import Array, Photo
from halfpan.core.measuring.response import Response
from halfpan.core.measuring.seen import Seen
from halfpan.core.measuring.target import find_target
from halfpan.core.paint.reading import Lab, SheetRead
from halfpan.errors import UnknownChart, UnreadablePhoto
from halfpan.files.photo import Picture, Taken, load_photo
from halfpan.files.target_colours import published_target, read_target_colours

Target = str
"""``found``: a 24-patch target is used if one is seen; ``none``; or the path of a file of its colours."""

Corners = tuple[tuple[float, float], ...]

FILLS_THE_PICTURE = 0.96
"""A sheet that takes more of the picture than this leaves no room for a target beside it."""

BETTER_TIERS = frozenset({"instrument", "target"})


@dataclass(frozen=True, slots=True)
class ReadWish:
    """How photos are to be read. ``chart`` and ``page`` stand in where the printed code cannot be read.

    ``blank`` is a picture of a blank sheet in the same light; ``review`` leaves every reading to be looked
    at; ``again`` reads photos anew that were read before; ``new_boxes`` keeps only boxes not read before.
    ``seen`` is the day a strip of a light test looked like this, where it is not that of the photo, and
    ``light_only`` refuses any other chart.
    """

    chart: str = ""
    page: int | None = None
    target: Target = "found"
    blank: Path | None = None
    review: bool = False
    again: bool = False
    new_boxes: bool = False
    seen: date | None = None
    light_only: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """A picture measured: the page it shows, what was read, and what its device is now known to do."""

    device: str
    taken: Taken
    chart: KeptChart
    page: int
    read: SheetRead
    corners: Corners
    profile: Mapping[str, Any] | None

    @property
    def exif(self) -> dict[str, Any]:
        """What the file said of how it was taken, as JSON can hold it."""
        said = asdict(self.taken)
        if self.taken.when is not None:
            said["when"] = self.taken.when.isoformat()
        return said


@dataclass(frozen=True, slots=True, eq=False)
class SeenPage:
    """A page found in a picture, its light and what the device makes of colour; nothing is read yet."""

    seen: Seen
    page: Page
    chart: KeptChart
    response: Response
    corners: Corners


def see_picture(
    db: Connection, picture: Picture, wish: ReadWish, *, corners: Corners | None = None
) -> SeenPage:
    """Find the page that a picture shows, and settle its light and colour.

    ``corners`` of the sheet, (row, col), set by hand stand in for the printed marks; ``wish`` then says which
    page it is.

    Raises
    ------
    UnreadablePhoto, UnknownChart, UnreadableTable
    """
    photo = picture.photo
    located = Located() if corners else locate(photo)
    chart, page = _which_page(db, photo, located, wish)
    paper = next((one.lab for one in papers.listed(db) if one.id == chart.paper), None)
    sheet = (chart.chart.sheet.width_mm, chart.chart.sheet.height_mm)
    blank = load_photo(wish.blank) if wish.blank else None
    by_hand = from_points(sheet_corners(sheet), np.array(corners)) if corners else None
    seen = see_page(photo, page, located=located, flattening=by_hand, blank=blank, sheet=sheet)
    found = _corners(seen.flattening, sheet)
    target = "none" if wish.target == "found" and not _room_beside(found, photo) else wish.target
    reference = _reference(db, photo, chart, page, target)
    known = devices.find(db, photo.device) if photo.device else None
    device = response_of(known.profile) if known else None
    response = respond(seen, page, reference=reference, paper=paper, device=device)
    return SeenPage(seen, page, chart, response, found)


def measure_picture(db: Connection, picture: Picture, wish: ReadWish) -> Measured:
    """Return what a picture says of the chart it shows.

    Raises
    ------
    UnreadablePhoto, UnknownChart, UnreadableTable
    """
    return measured_from(picture, see_picture(db, picture, wish))


def measured_from(picture: Picture, found: SeenPage) -> Measured:
    """Read every box of a page that was found in a picture."""
    device = picture.photo.device
    remembered = device and found.response.tier == "target"
    return Measured(
        device=device,
        taken=picture.taken,
        chart=found.chart,
        page=found.page.page,
        read=read_boxes(found.seen, found.page, found.response),
        corners=found.corners,
        profile=profile_of(found.response) if remembered else None,
    )


def _which_page(db: Connection, photo: Photo, located: Located, wish: ReadWish) -> tuple[KeptChart, Page]:
    code = located.chart
    if code and wish.chart and code.upper() != wish.chart.strip().upper():
        raise UnknownChart(f"{photo.name} shows chart {code}, not {wish.chart}; nothing was kept.")
    named = wish.chart or code
    if not named:
        raise UnreadablePhoto(
            f"The printed code in {photo.name} cannot be read, so the chart is not known. "
            "Say which chart it shows (--chart and --page), or give the photo on the page of that chart."
        )
    chart = charts.find(db, named)
    if wish.page and code and located.page and located.page != wish.page:
        raise UnknownChart(f"{photo.name} shows page {located.page}, not {wish.page}; nothing was kept.")
    number = wish.page or located.page or (1 if len(chart.chart.pages) == 1 else None)
    if number is None:
        raise UnreadablePhoto(
            f"The printed code in {photo.name} cannot be read, and chart {chart.chart.chart} has "
            f"{len(chart.chart.pages)} pages; say which one it shows (--page)."
        )
    page = chart.chart.page(number)
    if page is None:
        raise UnknownChart(f"Chart {chart.chart.chart} has no page {number}.")
    return chart, page


def _reference(
    db: Connection, photo: Photo, chart: KeptChart, page: Page, target: Target
) -> Reference | None:
    if target != "none":
        colours = _target_colours(target)
        found = find_target(photo, colours)
        if found is not None:
            return found.patches
        if target != "found":
            raise UnreadablePhoto(
                f"No 24-patch target was found in {photo.name}; leave --target out to read it by its paper."
            )
    return _known_boxes(db, chart, page) or None


def _room_beside(corners: Corners, photo: Photo) -> bool:
    """Say whether so much of the picture lies beside the sheet that a target could lie there."""
    inside = np.array(corners)
    row, col = inside[:, 0], inside[:, 1]
    area = abs(np.dot(row, np.roll(col, 1)) - np.dot(col, np.roll(row, 1))) / 2
    return bool(area < FILLS_THE_PICTURE * photo.shape[0] * photo.shape[1])


@lru_cache(maxsize=4)
def _target_colours(target: Target) -> Array:
    return published_target() if target == "found" else read_target_colours(Path(target))


def _known_boxes(db: Connection, chart: KeptChart, page: Page) -> dict[str, Lab]:
    """Return the masstones of boxes of this very page that were measured in better light before."""
    here = {box.box for box in page.boxes}
    return {
        one.reading.box: one.reading.lab
        for one in readings.listed(db, chart=chart.chart.chart, state="accepted")
        if one.reading.box in here and one.reading.zone == "masstone" and one.reading.tier in BETTER_TIERS
    }


def sheet_corners(sheet: tuple[float, float]) -> Array:
    """Return the corners of a sheet in mm, shape (4, 2), clockwise from the top left."""
    width, height = sheet
    return np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])


def _corners(flattening: Flattening, sheet: tuple[float, float]) -> Corners:
    places = to_picture(flattening, sheet_corners(sheet))
    return tuple((float(row), float(col)) for row, col in places)


def profile_of(response: Response) -> dict[str, Any]:
    """Return a response as JSON can hold it; light that lay over one picture alone is no part of a device."""
    return {
        name: value.tolist() if isinstance(value := getattr(response, name), np.ndarray) else value
        for name in Response.__dataclass_fields__
        if name != "beside"
    }


def response_of(profile: Mapping[str, Any]) -> Response:
    """Return the response that was kept; numbers unknown to this version are left out."""
    known: dict[str, Any] = {
        name: np.array(value) if isinstance(value, list) else value
        for name, value in profile.items()
        if name in Response.__dataclass_fields__
    }
    return Response(**known)
