"""Read a page again with its corners, or one of its boxes, moved by hand; older readings are set aside."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import Connection

from halfpan.collection import changes, charts, page_reads, readings, swatches
from halfpan.collection.page_reads import ByHand, PageRead
from halfpan.collection.photos import find as find_photo
from halfpan.core.chart.sheet import Box, Page
from halfpan.core.paint.reading import SheetRead
from halfpan.errors import BadRequest, UnreadablePhoto
from halfpan.files.originals import path_of
from halfpan.files.photo.picture import read_bytes
from halfpan.studio.cut_crops import corners_by_hand, kept_picture, moved_by
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
    return _read_again(studio, page_read, Nudge(corners=corners), now=now, who=who)


def nudge_box(
    studio: Studio, page_read: int, box: str, by_mm: tuple[float, float], *, now: datetime, who: str = ""
) -> int:
    """Read one box again a little to the side of where it was read, and return the new page read.

    The other boxes stay.

    Raises
    ------
    BadRequest, UnreadablePhoto
    """
    return _read_again(studio, page_read, Nudge(box=box, by_mm=by_mm), now=now, who=who)


@dataclass(frozen=True, slots=True)
class Nudge:
    """What is moved: the sheet's four corners, or one box by (x, y) in mm."""

    corners: Corners | None = None
    box: str = ""
    by_mm: tuple[float, float] = (0.0, 0.0)

    @property
    def reason(self) -> str:
        """Why the older readings are set aside."""
        x, y = self.by_mm
        return (
            f"box {self.box} moved by {x:.1f}, {y:.1f} mm"
            if self.box
            else "read again with corners set by hand"
        )

    def after(self, old: ByHand) -> ByHand:
        """Return all that a person has set, after this nudge too."""
        if not self.box:
            return replace(old, corners=True)
        was = old.moved.get(self.box, (0.0, 0.0))
        place = (was[0] + self.by_mm[0], was[1] + self.by_mm[1])
        if max(map(abs, place)) > MOST_MM:
            raise BadRequest(f"A box can be moved by {MOST_MM:.0f} mm at most; for more, move the corners.")
        return replace(old, moved={**old.moved, self.box: place})


def _read_again(studio: Studio, page_read: int, nudge: Nudge, *, now: datetime, who: str) -> int:
    with studio.look() as db:
        old = page_reads.find(db, page_read)
        if old is None or old.photo is None:
            raise UnreadablePhoto(f"No photo was kept for read {page_read}.")
        by_hand = nudge.after(old.by_hand)
        photo = _loaded(db, studio, old)
        picture = kept_picture(studio, old)
        corners = nudge.corners or corners_by_hand(old, charts.find(db, old.chart).chart.kind)
        wish = ReadWish(chart=old.chart, page=old.page, review=True, again=True)
        found = see_picture(db, picture, wish, corners=corners)
    if nudge.box and (nudge.by_mm == (0.0, 0.0) or all(one.box != nudge.box for one in found.page.boxes)):
        raise BadRequest(f"There is no box “{nudge.box}” on this page, or it was not moved.")
    measured = measured_from(picture, replace(found, page=_with_moved(found.page, by_hand)))
    if nudge.box:
        measured = replace(measured, read=_only(measured.read, nudge.box))
    said = f"chart {old.chart}: {nudge.reason}"
    with studio.transaction() as db, changes.noted(db, said, now=now, who=who):
        _set_old_aside(db, old, nudge)
        return keep_page(db, MeasuredPage(photo, measured, by_hand), wish, now=now)


def _only(read: SheetRead, box: str) -> SheetRead:
    """Return what was read of one box; a place where nothing can be read is refused."""
    found = tuple(one for one in read.readings if one.box == box)
    if not found:
        why = next((one.reason for one in read.unread if one.box == box), "nothing was found")
        raise UnreadablePhoto(f"Box {box} cannot be read there ({why}); it stays where it was.")
    return replace(
        read,
        readings=found,
        swatches=tuple(one for one in read.swatches if one.box == box),
    )


def _set_old_aside(db: Connection, old: PageRead, nudge: Nudge) -> None:
    """Set aside what this photo said before of the boxes that are read again, whichever read said it."""
    for read in page_reads.of_photo(db, old.photo or ""):
        if (read.chart, read.page) != (old.chart, old.page):
            continue
        held = [one for one in readings.listed(db, page_read=read.id) if one.reading.state != "set aside"]
        told = [one for one in swatches.listed(db, page_read=read.id) if one.state != "set aside"]
        gone = [one.id for one in held if nudge.box in {"", one.reading.box}]
        readings.set_state(db, gone, "set aside", reason=nudge.reason)
        swatches.set_state(db, [one.id for one in told if nudge.box in {"", one.swatch.box}], "set aside")


def _loaded(db: Connection, studio: Studio, old: PageRead) -> LoadedPhoto:
    kept = find_photo(db, old.photo or "")
    name = kept.name if kept else "the kept photo"
    return LoadedPhoto(name, read_bytes(path_of(studio.photos, old.photo or "")), old.photo or "")


def _with_moved(page: Page, by_hand: ByHand) -> Page:
    """Return a page with its boxes where they were moved to."""
    return replace(page, boxes=tuple(_moved(one, by_hand.moved.get(one.box)) for one in page.boxes))


def _moved(box: Box, by_mm: tuple[float, float] | None) -> Box:
    if by_mm is None:
        return box
    return replace(
        box,
        strokes=tuple(replace(one, rect=moved_by(one.rect, by_mm)) for one in box.strokes),
        zones=tuple(replace(one, rect=moved_by(one.rect, by_mm)) for one in box.zones),
    )
