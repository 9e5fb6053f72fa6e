"""True crops: the painter's own boxes cut out of the kept photos, laid flat and corrected in colour.

A page is cut once, all its boxes together, by the same geometry, light and colour fit that its readings
rest on, each where the painter moved it to, and kept as pictures in the studio's ``crops`` folder, which
may be thrown away at any time.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray
from sqlalchemy import Connection

from halfpan.collection import charts, page_reads
from halfpan.collection.page_reads import PageRead
from halfpan.core.chart.sheet import Box, Rect
from halfpan.core.colour.screen import encode_srgb, lab_to_srgb
from halfpan.core.measuring.photo import Photo, reduced
from halfpan.core.measuring.response import correct
from halfpan.core.measuring.seen import flat_piece
from halfpan.errors import UnreadablePhoto
from halfpan.files.originals import path_of
from halfpan.files.photo import Picture as Opened
from halfpan.files.photo import open_pictures
from halfpan.files.photo.picture import read_bytes
from halfpan.files.whole import write_whole
from halfpan.studio.measuring import Corners, ReadWish, SeenPage, see_picture
from halfpan.studio.studio import Studio

PIXELS_PER_MM = 12.0
WALL_WIDTH = 212
"""Pixels across a crop on the wall: sharp at 106 px on a screen of double density."""

EDGE_MM, TOP_MM = 1.3, 0.6
QUALITY = 88
VIEW_SIDE = 1600
SIZE = "photo.json"
Picture = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class PhotoView:
    """A kept photo made small enough to look at, and the size of the original in pixels."""

    path: Path
    rows: int
    cols: int


def crop_file(studio: Studio, page_read: int, box: str, *, large: bool = False) -> Path:
    """Return the picture of one painted box, cutting its page first where that has not been done.

    Raises
    ------
    UnreadablePhoto
        When the photo or the box is not there, or the page can no longer be found in it.
    """
    path = cut_page(studio, page_read) / f"{_plain(box)}{'-large' if large else ''}.webp"
    if not path.exists():
        raise UnreadablePhoto(f"There is no box “{box}” on this page.")
    return path


def photo_view(studio: Studio, page_read: int) -> PhotoView:
    """Return the photo of a page read as it is looked at in a review."""
    folder = cut_page(studio, page_read)
    rows, cols = json.loads((folder / SIZE).read_text("utf-8"))
    return PhotoView(folder / "photo.webp", rows, cols)


def cut_page(studio: Studio, page_read: int) -> Path:
    """Cut a page into its crops, unless that was done, and return their folder."""
    with studio.look() as db:
        read = page_reads.find(db, page_read)
        if read is None or read.photo is None:
            raise UnreadablePhoto(f"No photo was kept for read {page_read}, so it has no picture to cut.")
        name = f"crops/{read.photo[:16]}-{read.page}-{read.id}"
        folder = studio.worked_out(name)
        if not (folder / SIZE).exists():
            folder = studio.workings / name
            _cut(db, studio, read, folder)
    return folder


def _cut(db: Connection, studio: Studio, read: PageRead, folder: Path) -> None:
    found = seen_again(db, studio, read)
    folder.mkdir(parents=True, exist_ok=True)
    density = min(PIXELS_PER_MM, max(4.0, found.seen.flattening.pixels_per_mm))
    for box in found.page.boxes:
        area = moved_by(box_area(box, found.page.boxes), read.by_hand.moved.get(box.box, (0.0, 0.0)))
        lab = correct(found.response, np.nan_to_num(flat_piece(found.seen, area, density), nan=1.0))
        large = np.rint(np.clip(lab_to_srgb(lab), 0.0, 1.0) * 255).astype(np.uint8)
        _keep(folder / f"{_plain(box.box)}-large.webp", large)
        _keep(folder / f"{_plain(box.box)}.webp", _for_wall(large))
    keep_view(found.seen.photo, folder)


def seen_again(db: Connection, studio: Studio, read: PageRead) -> SeenPage:
    """Find a page in its kept photo again, as it was when it was read."""
    chart = charts.find(db, read.chart)
    wish = ReadWish(chart=chart.chart.chart, page=read.page)
    corners = corners_by_hand(read, chart.chart.kind)
    return see_picture(db, kept_picture(studio, read), wish, corners=corners)


def corners_by_hand(read: PageRead, kind: str) -> Corners | None:
    """Return the sheet corners a page was read by, where no printed marks stood for them; else None."""
    return read.corners if kind == "ruled" or read.by_hand.corners else None


def kept_picture(studio: Studio, read: PageRead) -> Opened:
    """Open the kept photo of a page read; of several pictures in a file, the one of that page."""
    pictures = open_pictures(read_bytes(path_of(studio.photos, read.photo or "")), "the kept photo")
    return pictures[min(read.page, len(pictures)) - 1]


def keep_view(photo: Photo, folder: Path) -> None:
    """Keep a photo as one looks at it, in ``photo.webp``: as stored, or its light in sRGB where it is raw."""
    small, _ = reduced(photo, VIEW_SIDE)
    light = np.stack([small.decode[small.pixels[..., c], c] for c in range(3)], axis=-1) @ small.matrix.T
    shown = np.rint(encode_srgb(np.clip(light, 0.0, 1.0)) * 255).astype(np.uint8)
    _keep(folder / "photo.webp", shown)
    write_whole(folder / SIZE, json.dumps(photo.shape).encode())


def box_area(box: Box, boxes: Sequence[Box]) -> Rect:
    """Return what is cut for a box: its strokes, and paper around them as far as half way to a neighbour."""
    own = _around(box)
    left = right = EDGE_MM
    for other in boxes:
        near = _around(other)
        if other is box or near.bottom <= own.y or near.y >= own.bottom:
            continue
        if near.x >= own.right:
            right = min(right, (near.x - own.right) / 2)
        elif near.right <= own.x:
            left = min(left, (own.x - near.right) / 2)
    left, right = max(left, 0.0), max(right, 0.0)
    return Rect(own.x - left, own.y - TOP_MM, own.width + left + right, own.height + TOP_MM + EDGE_MM)


def moved_by(rect: Rect, by_mm: tuple[float, float]) -> Rect:
    """Return a rectangle moved across and down."""
    return replace(rect, x=rect.x + by_mm[0], y=rect.y + by_mm[1])


def _around(box: Box) -> Rect:
    rects = [stroke.rect for stroke in box.strokes] or [zone.rect for zone in box.zones]
    x, y = min(r.x for r in rects), min(r.y for r in rects)
    return Rect(x, y, max(r.right for r in rects) - x, max(r.bottom for r in rects) - y)


def _for_wall(large: Picture) -> Picture:
    """Bring a crop to the width of the wall."""
    rows, cols = large.shape[:2]
    small = cv2.resize(large, (WALL_WIDTH, round(rows * WALL_WIDTH / cols)), interpolation=cv2.INTER_AREA)
    return np.asarray(small, dtype=np.uint8)


def _keep(path: Path, picture: Picture) -> None:
    done, data = cv2.imencode(".webp", picture[..., ::-1], [cv2.IMWRITE_WEBP_QUALITY, QUALITY])
    if not done:
        raise UnreadablePhoto(f"{path.name} could not be made into a picture.")
    write_whole(path, data.tobytes())


def _plain(box: str) -> str:
    return "".join(letter if letter.isalnum() else "_" for letter in box)
