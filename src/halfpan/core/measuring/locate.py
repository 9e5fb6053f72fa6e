"""Find a chart in a picture: its printed marks, and the code that says which chart and page it is.

Places are ``(row, col)``. Marks are looked for on a reduced picture and then placed on the full one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.measuring.bend import project
from halfpan.core.measuring.corners import refined
from halfpan.core.measuring.photo import Array, Photo, grey, reduced
from halfpan.errors import UnreadablePhoto

FIRST_LOOK = 1800
"""Long side, in pixels, of the picture that marks are first looked for on."""

SECOND_LOOK = 4200
"""A second look, closer: a picture of twelve million pixels as it is."""

FLATTENED = 3200
"""Long side, in pixels, of a sheet laid flat to read its code."""

EDGE = 0.03
"""Share of the sheet kept around the outermost marks: the code may stand a little further out."""

BAND = 0.16
"""Share of the long side of a sheet within which its code stands, from whichever edge."""

CODE_WORD = "HALFPAN"
ALL_MARKS = 8
QUICK, THOROUGH = (23, 23, 10), (3, 23, 10)
"""Least and greatest width, in pixels, of what a pixel is held against to be called black, and the step
between: a sharp mark of some size shows by the greatest alone, in a third of the time."""

BY_MARK = (-3.9, -0.7, 3.5, 3.4)
"""Where the code stands beside mark 1 on all but the largest sheets: left, top, width and height of a piece
with room about it, in sides of the mark, from the mark's top left."""

MARK_SIDE = 128
"""Side, in pixels, of mark 1 where the piece beside it is laid flat: some 10 pixels a square of the code."""


@dataclass(frozen=True, slots=True, eq=False)
class Located:
    """What was found of a chart in a picture.

    Attributes
    ----------
    marks : the four corners of each mark found, by its id: arrays (4, 2) of (row, col), clockwise from the
        mark's own top left
    chart, page : what the printed code says; None where it could not be read
    small : the reduced picture they were first looked for on, and its scale
    """

    marks: Mapping[int, Array] = field(default_factory=dict)
    chart: str | None = None
    page: int | None = None
    small: tuple[Photo, float] | None = None

    @property
    def turned(self) -> float | None:
        """How far the sheet lies turned clockwise in the picture, in degrees from -180 to 180."""
        if not self.marks:
            return None
        corners = np.stack(list(self.marks.values()))
        along = (corners[:, 1] - corners[:, 0] + corners[:, 2] - corners[:, 3]).sum(0)
        return float(np.degrees(np.arctan2(along[0], along[1])))

    @property
    def upside_down(self) -> bool:
        """Whether the sheet lies more upside down than upright."""
        return self.turned is not None and abs(self.turned) > 135


def locate(photo: Photo, *, code: bool = True) -> Located:
    """Find the marks of a chart, and read its printed code.

    Parameters
    ----------
    photo : Photo
    code : look for the printed code too; leave it out where chart and page are known

    Raises
    ------
    UnreadablePhoto
        When fewer than two marks are found: there is no chart, or too little of it.
    """
    small, scale = reduced(photo, FIRST_LOOK)
    look = grey(small)
    found = _marks(look, scale, QUICK)
    if len(found) < ALL_MARKS:
        found = _marks(look, scale) | found
    if len(found) < ALL_MARKS and scale < 1.0:
        closer, closer_scale = reduced(photo, SECOND_LOOK)
        found = _marks(grey(closer), closer_scale) | found
    if len(found) < 2:
        raise UnreadablePhoto(
            f"No chart was found in {photo.name}: at least four of its printed corner marks must be in the "
            "picture, sharp and uncovered."
        )
    marks = dict(zip(found, refined(photo, np.stack(list(found.values()))), strict=True))
    chart, page = _read_code(photo, look, marks, scale) if code else (None, None)
    return Located(marks, chart, page, (small, scale))


def _marks(
    look: NDArray[np.uint8], scale: float, windows: tuple[int, int, int] = THOROUGH
) -> dict[int, Array]:
    """Find marks; the corners are places in the full picture. A mark seen twice is left out: one is false."""
    settings = cv2.aruco.DetectorParameters()
    settings.adaptiveThreshWinSizeMin, settings.adaptiveThreshWinSizeMax = windows[:2]
    settings.adaptiveThreshWinSizeStep = windows[2]
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    settings.cornerRefinementWinSize = 3
    settings.minMarkerPerimeterRate = 0.02
    words = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    found: tuple[Any, Any, Any] = cv2.aruco.ArucoDetector(words, settings).detectMarkers(look)
    quads, numbers, _ = found
    if numbers is None:
        return {}
    listed = [int(n) for n in np.ravel(numbers)]
    return {
        number: (quad.reshape(4, 2)[:, ::-1].astype(np.float64) + 0.5) / scale - 0.5
        for number, quad in zip(listed, quads, strict=True)
        if listed.count(number) == 1
    }


def _read_code(
    photo: Photo, look: NDArray[np.uint8], marks: Mapping[int, Array], scale: float
) -> tuple[str | None, int | None]:
    detector = cv2.QRCodeDetectorAruco()
    for picture in _views(photo, look, marks, scale):
        _, texts, _, _ = detector.detectAndDecodeMulti(picture)
        for text in texts or ():
            words = text.split()
            if len(words) == 3 and words[0] == CODE_WORD and words[2].isdigit():
                return words[1], int(words[2])
    return None, None


def _views(
    photo: Photo, look: NDArray[np.uint8], marks: Mapping[int, Array], scale: float
) -> Iterator[NDArray[np.uint8]]:
    """Yield pictures in which the code may be read: by its mark, ends, whole, flattened, edges, closer."""
    if 1 in marks:
        yield from _by_mark(photo, marks[1])
    yield from _ends(look, marks, scale)
    yield look
    closer = look
    if scale < 1.0:
        near, scale = reduced(photo, SECOND_LOOK)
        closer = grey(near)
    if len(marks) >= 3:
        squared = _squared(closer, marks, scale)
        yield squared
        yield from _bands(squared)
    if closer is not look:
        yield closer


def _by_mark(photo: Photo, mark: Array) -> Iterator[NDArray[np.uint8]]:
    """Yield the piece of the sheet beside mark 1 laid flat, as far as one mark tells."""
    left, top, wide, high = BY_MARK
    square = (np.array([(0, 0), (1, 0), (1, 1), (0, 1)]) - (left, top)) * MARK_SIDE
    seen = mark[:, ::-1].astype(np.float32)
    onto = np.asarray(cv2.getPerspectiveTransform(square.astype(np.float32), seen), dtype=np.float64)
    size = (round(wide * MARK_SIDE), round(high * MARK_SIDE))
    ends = project(onto, np.array([(0, 0), (size[0], 0), size, (0, size[1])], dtype=np.float64))
    first = np.maximum(np.floor(ends.min(0)), 0).astype(int)
    last = np.maximum(np.ceil(ends.max(0)) + 1, 0).astype(int)
    piece = photo.pixels[first[0] : last[0], first[1] : last[1]]
    if piece.size == 0:
        return
    shifted = np.array([[1, 0, -first[1]], [0, 1, -first[0]], [0, 0, 1]]) @ onto
    flat = cv2.warpPerspective(
        grey(Photo(piece, photo.decode)), shifted, size, flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    )
    yield np.asarray(flat, dtype=np.uint8)


def _ends(look: NDArray[np.uint8], marks: Mapping[int, Array], scale: float) -> Iterator[NDArray[np.uint8]]:
    """Yield the upper and the lower quarter of the sheet: the code usually stands at its head."""
    rows = np.concatenate([c[:, 0] for c in marks.values()]) * scale
    top, bottom = float(rows.min()), float(rows.max())
    quarter = (bottom - top) / 4
    for low, high in ((top - 20, top + quarter), (bottom - quarter, bottom + 20)):
        piece = look[max(0, int(low)) : max(0, int(high))]
        if min(piece.shape) > 60:
            yield np.ascontiguousarray(piece)


def _bands(squared: NDArray[np.uint8]) -> Iterator[NDArray[np.uint8]]:
    """Yield the edges of a flattened sheet, crisper and larger: the code stands in one of them."""
    rows, cols = squared.shape
    deep = round(BAND * max(rows, cols))
    for band in (squared[:deep], squared[-deep:], squared[:, :deep], squared[:, -deep:]):
        for larger in (1.0, 1.5):
            big = cv2.resize(band, None, fx=larger, fy=larger, interpolation=cv2.INTER_CUBIC)
            crisp = cv2.addWeighted(big, 2.2, cv2.GaussianBlur(big, (0, 0), 2.5 * larger), -1.2, 0)
            yield np.asarray(crisp, dtype=np.uint8)


def _squared(look: NDArray[np.uint8], marks: Mapping[int, Array], scale: float) -> NDArray[np.uint8]:
    """Flatten roughly before the chart is known: the four outermost corners become those of a rectangle."""
    points = np.concatenate([c[:, ::-1] for c in marks.values()]) * scale
    along, across = points.sum(1), points[:, 0] - points[:, 1]
    chosen = [along.argmin(), across.argmax(), along.argmax(), across.argmin()]
    quad = points[chosen]
    wide = np.linalg.norm(quad[1] - quad[0]) + np.linalg.norm(quad[2] - quad[3])
    high = np.linalg.norm(quad[3] - quad[0]) + np.linalg.norm(quad[2] - quad[1])
    edge = EDGE * FLATTENED
    size = (np.array([wide, high]) / max(wide, high) * FLATTENED).round()
    flat = np.array([(0, 0), (size[0], 0), size, (0, size[1])]) + edge
    found: tuple[Any, Any] = cv2.findHomography(quad, flat)
    shape = found[0]
    if shape is None:
        return look
    return np.asarray(
        cv2.warpPerspective(look, shape, (int(size[0] + 2 * edge), int(size[1] + 2 * edge))), dtype=np.uint8
    )
