"""A sheet seen in a picture: its pixels, where the paper lies in them, and the light on it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Rect
from halfpan.core.measuring.flatten import Flattening, to_picture
from halfpan.core.measuring.light import LightField, paper_light
from halfpan.core.measuring.photo import Array, Photo, light_at, reduced

NEARLY = 0.95
"""A picture that was made already will do when it has so much of the pixels that were asked for."""


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A sheet in a picture.

    ``field`` is None where no bare paper could be seen; ``small`` a reduced picture and its scale, where one
    was made already.
    """

    photo: Photo
    flattening: Flattening
    field: LightField | None
    small: tuple[Photo, float] | None = None


def flat_piece(seen: Seen, rect: Rect, pixels_per_mm: float) -> Array:
    """Cut a piece of the sheet out flat and evenly lit.

    Parameters
    ----------
    seen : Seen
    rect : Rect, in mm
    pixels_per_mm : of the piece; finer pictures are averaged down, coarser ones only spread

    Returns
    -------
    array, shape (rows, cols, 3), light relative to bare paper
    """
    rows, cols = max(1, round(rect.height * pixels_per_mm)), max(1, round(rect.width * pixels_per_mm))
    finer = max(1, round(seen.flattening.pixels_per_mm / pixels_per_mm))
    x = rect.x + (np.arange(cols * finer) + 0.5) * rect.width / (cols * finer)
    y = rect.y + (np.arange(rows * finer) + 0.5) * rect.height / (rows * finer)
    points: NDArray[np.float64] = np.stack(np.meshgrid(x, y), axis=-1)
    light, _ = light_at(seen.photo, to_picture(seen.flattening, points))
    if seen.field is not None:
        light = light / paper_light(seen.field, points)
    if finer == 1:
        return light
    return np.asarray(cv2.resize(light, (cols, rows), interpolation=cv2.INTER_AREA), dtype=np.float64)


def coarser(seen: Seen, pixels_per_mm: float) -> Seen:
    """Return the sheet in a smaller picture that still has so many pixels a millimetre, if it had more."""
    flat = seen.flattening
    factor = int(flat.pixels_per_mm / pixels_per_mm)
    if factor <= 1:
        return seen
    if seen.small is not None and seen.small[1] * flat.pixels_per_mm > NEARLY * pixels_per_mm:
        small, scale = seen.small
    else:
        small, scale = reduced(seen.photo, -(-max(seen.photo.shape) // factor))
    shift = 0.5 * scale - 0.5
    onto = np.array([[scale, 0.0, shift], [0.0, scale, shift], [0.0, 0.0, 1.0]])
    flattening = replace(
        flat,
        homography=onto @ flat.homography,
        bend=None if flat.bend is None else flat.bend * scale,
        pixels_per_mm=flat.pixels_per_mm * scale,
    )
    return Seen(small, flattening, seen.field)
