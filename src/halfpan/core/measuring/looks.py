"""Look at the pixels of zones, all of a sheet's in one go.

All light is relative to bare paper at the same place (paper = 1), linear, red green blue.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Zone
from halfpan.core.measuring.flatten import Flattening, to_picture
from halfpan.core.measuring.light import LightField, paper_light
from halfpan.core.measuring.photo import Array, Photo, light_and_ends

STEP_MM = 0.125
MOST_LOOKS = 1000


@dataclass(frozen=True, slots=True, eq=False)
class Looks:
    """The pixels of one zone.

    ``relative`` (n, 3); ``high`` and ``low`` (n, 3), channels at an end of what the picture can hold;
    ``along`` (n,), how far each lies along the zone's direction, 0-1; ``middle`` (x, y) and ``size`` in mm.
    """

    relative: Array
    high: NDArray[np.bool_]
    low: NDArray[np.bool_]
    along: Array
    middle: tuple[float, float]
    size: tuple[float, float]


def look(
    photo: Photo, flattening: Flattening, field: LightField | None, zones: Sequence[Zone]
) -> list[Looks]:
    """Look at the pixels of some zones, all in one go.

    Parameters
    ----------
    photo : Photo, at full size
    flattening : Flattening
    field : LightField; None takes the light as it stands in the picture
    zones : the zones; the direction a zone runs ``towards`` orders its pixels
    """
    if not zones:
        return []
    offsets = {size: _grid(*size, flattening.pixels_per_mm) for size in {_size(zone) for zone in zones}}
    grids = [offsets[_size(zone)] for zone in zones]
    ends = np.cumsum([len(grid) for grid in grids])
    points = np.concatenate(
        [grid + np.array([zone.rect.x, zone.rect.y]) for grid, zone in zip(grids, zones, strict=True)]
    )
    light, high, low = light_and_ends(photo, to_picture(flattening, points))
    if field is not None:
        light = light / paper_light(field, points)
    split = [np.split(values, ends[:-1]) for values in (light, high, low)]
    pieces = zip(*split, grids, zones, strict=True)
    return [
        Looks(
            seen,
            above,
            below,
            _along(grid, zone),
            (zone.rect.x + zone.rect.width / 2, zone.rect.y + zone.rect.height / 2),
            _size(zone),
        )
        for seen, above, below, grid, zone in pieces
    ]


def _size(zone: Zone) -> tuple[float, float]:
    return zone.rect.width, zone.rect.height


def _grid(width: float, height: float, pixels_per_mm: float) -> Array:
    """Lay places to look at over a zone of some size: offsets (n, 2) in mm from its top left."""
    area = max(width * height, 1e-6)
    step = max(STEP_MM, 1.0 / max(pixels_per_mm, 1e-6), float(np.sqrt(area / MOST_LOOKS)))
    across, down = max(1, int(width / step)), max(1, int(height / step))
    x = (np.arange(across) + 0.5) * width / across
    y = (np.arange(down) + 0.5) * height / down
    return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


def _along(grid: Array, zone: Zone) -> Array:
    """How far each place lies along the zone's direction, 0-1."""
    across, down = grid[:, 0] / zone.rect.width, grid[:, 1] / zone.rect.height
    if zone.towards in {"down", "up"}:
        return down if zone.towards == "down" else 1 - down
    return 1 - across if zone.towards == "left" else across
