"""A picture as numbers: the pixels as they were stored, and how to make linear light of them.

Pixels stay in the file's own integers; light is worked out only where it is looked at, through a decode
table, so that a page of 35 million pixels is never turned into floats. A place in a picture is
``(row, col)``, pixel centres at whole numbers.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

LOWEST = 2.0 / 255.0
"""Stored values at or below this share of the greatest count as drowned in black."""


@dataclass(frozen=True, slots=True, eq=False)
class Photo:
    """A decoded picture, turned the way it is to be looked at.

    Attributes
    ----------
    pixels : array, shape (rows, cols, 3), uint8 or uint16, red first
        A view of a blue-first buffer (``buffer[..., ::-1]``) is welcome and costs nothing.
    decode : array, shape (levels, 3), float32
        Linear light 0-1 of each stored value, one column a channel: 256 or 65536 rows.
    matrix : array, shape (3, 3)
        Linear device light to linear sRGB; rows sum to 1 where the device's white is to stay white.
    clip_level : stored values at or above this count as burnt out (250 of 255 where nothing is known).
    device : what made the picture ("maker model", a scanner's profile name), "" when the file does not say.
    kind : "scan" or "photo" when the file says so, otherwise "".
    name : what to call the picture in a sentence.
    """

    pixels: NDArray[Any]
    decode: NDArray[np.float32]
    matrix: Array = field(default_factory=lambda: np.eye(3))
    clip_level: int = 250
    device: str = ""
    kind: str = ""
    name: str = "the picture"

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return self.pixels.shape[0], self.pixels.shape[1]


def light_at(photo: Photo, places: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Linear sRGB light at the pixels nearest to some places, and which of them are burnt out.

    Parameters
    ----------
    photo : Photo
    places : array, shape (..., 2), (row, col)
        Places outside the picture give NaN and count as burnt out.

    Returns
    -------
    light : array, shape (..., 3), linear sRGB, may leave 0-1 for wide-range devices
    burnt : array of bool, shape (...), any channel at its upper end
    """
    light, high, _ = light_and_ends(photo, places)
    return light, np.asarray(high.any(-1), dtype=bool)


def light_and_ends(photo: Photo, places: Array) -> tuple[Array, NDArray[np.bool_], NDArray[np.bool_]]:
    """Light as ``light_at`` gives it, and which channels (..., 3) stand at their upper and lower end."""
    stored, inside = _stored_at(photo, places)
    light = np.empty(stored.shape)
    for channel, table in enumerate(photo.decode.T):
        light[..., channel] = table[stored[..., channel]]
    if not np.array_equal(photo.matrix, np.eye(3)):
        light = light @ photo.matrix.T
    high, low = stored >= photo.clip_level, stored <= LOWEST * (len(photo.decode) - 1)
    if not inside.all():
        light[~inside] = np.nan
        high |= ~inside[..., None]
        low &= inside[..., None]
    return light, high, low


def _stored_at(photo: Photo, places: Array) -> tuple[NDArray[Any], NDArray[np.bool_]]:
    """Return what is stored at the pixels nearest to some places, and which places lie in the picture."""
    rows, cols = photo.shape
    row, col = np.rint(places[..., 0]), np.rint(places[..., 1])
    inside = (row >= 0) & (row < rows) & (col >= 0) & (col < cols)
    if not inside.all():
        row, col = np.where(inside, row, 0), np.where(inside, col, 0)
    buffer, turned = _buffer(photo)
    stored = buffer.reshape(-1, 3).take((row * cols + col).astype(np.intp), axis=0)
    return stored[..., ::-1] if turned else stored, np.asarray(inside)


def reduced(photo: Photo, long_side: int) -> tuple[Photo, float]:
    """Return a smaller picture of the same thing, and its scale: below 1, never above.

    Whole squares of pixels are averaged, so the long side ends between half of ``long_side`` and all of it.
    """
    rows, cols = photo.shape
    factor = -(-max(rows, cols) // long_side)
    if factor <= 1:
        return photo, 1.0
    buffer, turned = _buffer(photo)
    small = _averaged(buffer[: rows - rows % factor, : cols - cols % factor], factor)
    return replace(photo, pixels=small[..., ::-1] if turned else small), 1.0 / factor


def _averaged(whole: NDArray[Any], factor: int) -> NDArray[Any]:
    """Average squares of ``factor`` pixels a side.

    By four it is done in two steps of two, which take a third of the time. Halves are rounded up, so the
    second step works on the negative, where up is down, and on average nothing is gained or lost.
    """
    if factor == 4:
        half = _averaged(whole, 2)
        quarter = _averaged(cv2.bitwise_not(half, half), 2)
        return np.asarray(cv2.bitwise_not(quarter, quarter))
    size = (whole.shape[1] // factor, whole.shape[0] // factor)
    return np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA))


def grey(photo: Photo) -> NDArray[np.uint8]:
    """Return the picture in 8-bit grey, as stored (not linear): to find things by, not to measure."""
    buffer, turned = _buffer(photo)
    if buffer.dtype == np.uint16:
        buffer = (buffer >> 8).astype(np.uint8)
    code = cv2.COLOR_BGR2GRAY if turned else cv2.COLOR_RGB2GRAY
    return np.asarray(cv2.cvtColor(buffer, code), dtype=np.uint8)


def _buffer(photo: Photo) -> tuple[NDArray[Any], bool]:
    """Return memory that lies in order, and whether it is blue first."""
    turned = photo.pixels.strides[-1] < 0
    return np.ascontiguousarray(photo.pixels[..., ::-1] if turned else photo.pixels), turned
