"""Read a page again with its corners, or one of its boxes, moved by hand; older readings are set aside."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from sqlalchemy import Connection

from halfpan import __version__
from halfpan.collection import changes, charts, page_reads, readings, swatches
from halfpan.collection.page_reads import PageRead
from halfpan.collection.photos import find as find_photo
from halfpan.core.chart.sheet import Box, Page, Rect
from halfpan.errors import BadRequest, UnreadablePhoto
from halfpan.files.originals import path_of
from halfpan.files.photo.picture import read_bytes
from halfpan.studio.cut_crops import BY_HAND, corners_by_hand, kept_picture
from halfpan.studio.keep_page import LoadedPhoto, MeasuredPage, keep_page
from halfpan.studio.measuring import Corners, ReadWish, measured_from, see_picture
from halfpan.studio.studio import Studio

MOST_MM = 15.0


def nudge_corners(studio: Studio, page_read: int, corners: Corners, *, now: datetime, who: str = "") -> int:
    """Read a page again from sheet corners (row, col) set by hand, and return the new page read.

    Raises
    ------
    BadRequest, UnreadablePhoto
    """
    if len(corners) != 4:
        raise BadRequest("A sheet has four corners; give them clockwise from the top left.")
    reason = "read again with corners set by hand"
    return _read_again(studio, page_read, reason, now=now, who=who, corners=corners)


def nudge_box(
    studio: Studio, page_read: int, box: str, by_mm: tuple[float, float], *, now: datetime, who: str = ""
) -> int:
    """Read one box again a little to the side, and return the new page read; the other boxes stay.

    Raises
    ------
    BadRequest, UnreadablePhoto
    """
    x, y = by_mm
    if max(abs(x), abs(y)) > MOST_MM:
        raise BadRequest(f"A box can be moved by {MOST_MM:.0f} mm at most; for more, move the corners.")

    def moved(page: Page) -> Page:
        boxes = tuple(_moved(one, x, y) if one.box == box else one for one in page.boxes)
        if boxes == page.boxes:
            raise BadRequest(f"There is no box “{box}” on this page, or it was not moved.")
        return replace(page, boxes=boxes)

    reason = f"box {box} moved by {x:.1f}, {y:.1f} mm"
    return _read_again(studio, page_read, reason, now=now, who=who, moved=moved, only=box)


def _read_again(
    studio: Studio,
    page_read: int,
    reason: str,
    *,
    now: datetime,
    who: str,
    corners: Corners | None = None,
    moved: Callable[[Page], Page] | None = None,
    only: str = "",
) -> int:
    with studio.look() as db:
        old = page_reads.find(db, page_read)
        if old is None or old.photo is None:
            raise UnreadablePhoto(f"No photo was kept for read {page_read}.")
        photo = _loaded(db, studio, old)
        picture = kept_picture(studio, old)
        by_hand = corners or corners_by_hand(old, charts.find(db, old.chart).chart.kind)
        wish = ReadWish(chart=old.chart, page=old.page, review=True, again=True)
        found = see_picture(db, picture, wish, corners=by_hand)
    if moved is not None:
        found = replace(found, page=moved(found.page))
    measured = measured_from(picture, found)
    if only:
        read = measured.read
        measured = replace(
            measured,
            read=replace(
                read,
                readings=tuple(one for one in read.readings if one.box == only),
                swatches=tuple(one for one in read.swatches if one.box == only),
            ),
        )
    with studio.transaction() as db, changes.noted(db, f"chart {old.chart}: {reason}", now=now, who=who):
        number = keep_page(db, MeasuredPage(photo, measured), wish, now=now)
        _set_old_aside(db, old, number, only, reason, by_hand=by_hand is not None)
    return number


def _set_old_aside(
    db: Connection, old: PageRead, number: int, only: str, reason: str, *, by_hand: bool
) -> None:
    held = readings.listed(db, page_read=old.id)
    told = swatches.listed(db, page_read=old.id)
    gone = [one.id for one in held if not only or one.reading.box == only]
    readings.set_state(db, gone, "set aside", reason=reason)
    swatches.set_state(db, [one.id for one in told if not only or one.swatch.box == only], "set aside")
    if by_hand:
        page_reads.set_version(db, number, __version__ + BY_HAND)


def _loaded(db: Connection, studio: Studio, old: PageRead) -> LoadedPhoto:
    kept = find_photo(db, old.photo or "")
    name = kept.name if kept else "the kept photo"
    return LoadedPhoto(name, read_bytes(path_of(studio.photos, old.photo or "")), old.photo or "")


def _moved(box: Box, x: float, y: float) -> Box:
    def shifted(rect: Rect) -> Rect:
        return Rect(rect.x + x, rect.y + y, rect.width, rect.height)

    return replace(
        box,
        strokes=tuple(replace(one, rect=shifted(one.rect)) for one in box.strokes),
        zones=tuple(replace(one, rect=shifted(one.rect)) for one in box.zones),
    )
