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
    rows, cols = photo.shape
    nearest = np.rint(np.nan_to_num(places, nan=-1.0)).astype(np.intp)
    inside = (nearest >= 0).all(-1) & (nearest[..., 0] < rows) & (nearest[..., 1] < cols)
    row = np.clip(nearest[..., 0], 0, rows - 1)
    col = np.clip(nearest[..., 1], 0, cols - 1)
    stored = photo.pixels[row, col]
    device = np.stack([photo.decode[stored[..., c], c] for c in range(3)], axis=-1)
    light = device.astype(np.float64)
    if not np.array_equal(photo.matrix, np.eye(3)):
        light = light @ photo.matrix.T
    light[~inside] = np.nan
    floor = LOWEST * (len(photo.decode) - 1)
    return light, (stored >= photo.clip_level) | ~inside[..., None], stored <= floor


def reduced(photo: Photo, long_side: int) -> tuple[Photo, float]:
    """Return a smaller picture of the same thing, and its scale: below 1, never above.

    Whole squares of pixels are averaged, so the long side ends between half of ``long_side`` and all of it.
    """
    rows, cols = photo.shape
    factor = -(-max(rows, cols) // long_side)
    if factor <= 1:
        return photo, 1.0
    buffer, turned = _buffer(photo)
    whole = buffer[: rows - rows % factor, : cols - cols % factor]
    size = (whole.shape[1] // factor, whole.shape[0] // factor)
    small = cv2.resize(whole, size, interpolation=cv2.INTER_AREA)
    return replace(photo, pixels=small[..., ::-1] if turned else small), 1.0 / factor


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
