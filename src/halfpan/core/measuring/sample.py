"""Look at the pixels of a zone and say what light it gives back, leaving out gaps and sparkle.

All light is relative to bare paper at the same place (paper = 1), linear, red green blue.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Rect, Zone
from halfpan.core.measuring.flatten import Flattening, to_picture
from halfpan.core.measuring.light import LightField, paper_light
from halfpan.core.measuring.photo import Array, Photo, light_and_ends

STEP_MM = 0.125
MOST_LOOKS = 1000
BARE_NEARER = 0.4
HOT_MAD = 4.0
FEWEST_KEPT = 0.3
TRIM = 0.10
BINS = 12
SD_OF_MEAN_MISS = 1.25
"""A Gaussian's standard deviation over its mean absolute miss."""

LUMINANCE = np.array([0.2126, 0.7152, 0.0722])


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


@dataclass(frozen=True, slots=True, eq=False)
class Sample:
    """What one zone gives back.

    Attributes
    ----------
    relative : array, shape (3,)
    spread : array, shape (3,), standard deviation of the kept pixels
    grain : MAD / median of the kept pixels' luminance
    count : pixels kept
    independent : how many of them may be called independent (one for each 0.25 mm square)
    bare, hot, burnt : shares of all pixels that were gaps, sparkle, burnt out to white
    high, low : arrays, shape (3,), share of pixels at either end of what the picture can hold, by channel
    middle : (x, y) in mm
    """

    relative: Array
    spread: Array
    grain: float
    count: int
    independent: float
    bare: float
    hot: float
    burnt: float
    high: Array
    low: Array
    middle: tuple[float, float]


_NOTHING = Sample(
    relative=np.full(3, np.nan),
    spread=np.full(3, np.nan),
    grain=0.0,
    count=0,
    independent=1.0,
    bare=0.0,
    hot=0.0,
    burnt=1.0,
    high=np.ones(3),
    low=np.zeros(3),
    middle=(0.0, 0.0),
)


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
    grids = [_grid(zone.rect, flattening.pixels_per_mm) for zone in zones]
    ends = np.cumsum([len(g) for g in grids])
    points = np.concatenate(grids)
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
            (zone.rect.width, zone.rect.height),
        )
        for seen, above, below, grid, zone in pieces
    ]


def _grid(rect: Rect, pixels_per_mm: float) -> Array:
    area = max(rect.width * rect.height, 1e-6)
    step = max(STEP_MM, 1.0 / max(pixels_per_mm, 1e-6), float(np.sqrt(area / MOST_LOOKS)))
    across, down = max(1, int(rect.width / step)), max(1, int(rect.height / step))
    x = rect.x + (np.arange(across) + 0.5) * rect.width / across
    y = rect.y + (np.arange(down) + 0.5) * rect.height / down
    return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


def _along(grid: Array, zone: Zone) -> Array:
    rect = zone.rect
    across, down = (grid[:, 0] - rect.x) / rect.width, (grid[:, 1] - rect.y) / rect.height
    ways = {"right": across, "left": 1 - across, "down": down, "up": 1 - down}
    return ways[zone.towards or "right"]


def take(looks: Looks, *, gaps: bool = True) -> Sample:
    """Say what a flat zone gives back.

    Pixels nearer to bare paper than to the wash (gaps) and far brighter ones (sparkle) are left out; of
    the rest the mean of the middle 80 % by luminance is taken, band by band the same pixels.

    Parameters
    ----------
    looks : Looks
    gaps : whether bare paper may show through (False on black ground and on bare paper itself)
    """
    usable = ~np.isnan(looks.relative).any(1)
    seen = looks.relative[usable]
    total = len(looks.relative)
    if len(seen) == 0:
        return replace(_NOTHING, middle=looks.middle)
    luminance = seen @ LUMINANCE
    middle = np.median(seen, axis=0)
    bare = _bare(seen, middle) if gaps else np.zeros(len(seen), dtype=bool)
    level = float(np.median(luminance[~bare])) if (~bare).any() else float(np.median(luminance))
    mad = float(np.median(np.abs(luminance[~bare] - level))) if (~bare).any() else 0.0
    hot = ~bare & (luminance > level + HOT_MAD * mad + 1e-3)
    kept = ~bare & ~hot
    if kept.mean() < FEWEST_KEPT:
        kept = np.ones(len(seen), dtype=bool)
    chosen = _middle_of(luminance, kept)
    mad = float(np.median(np.abs(luminance[kept] - np.median(luminance[kept]))))
    return Sample(
        relative=seen[chosen].mean(0),
        spread=seen[kept].std(0),
        grain=mad / max(float(np.median(luminance[kept])), 1e-4),
        count=int(chosen.sum()),
        independent=max(1.0, float(kept.mean()) * looks.size[0] * looks.size[1] * 16.0),
        bare=float(bare.mean()),
        hot=float(hot.mean()),
        burnt=float(looks.high.all(1).sum() / total),
        high=looks.high.mean(0),
        low=looks.low.mean(0),
        middle=looks.middle,
    )


def _bare(seen: Array, middle: Array) -> NDArray[np.bool_]:
    """Which pixels are much nearer to paper than the middle of the zone is, in root light."""
    from_paper = np.linalg.norm(np.sqrt(np.maximum(seen, 0)) - 1, axis=1)
    return np.asarray(from_paper < BARE_NEARER * np.linalg.norm(np.sqrt(np.maximum(middle, 0)) - 1))


def _middle_of(luminance: Array, kept: NDArray[np.bool_]) -> NDArray[np.bool_]:
    low, high = np.quantile(luminance[kept], [TRIM, 1 - TRIM])
    return np.asarray(kept & (luminance >= low) & (luminance <= high))


def follow(looks: Looks, bins: int = BINS) -> list[Sample]:
    """Follow a graded zone along its direction: the median across the stroke, in some bins of as many pixels.

    A zone that is partly out of the picture has no bins.
    """
    each = len(looks.relative) // bins
    if each == 0 or np.isnan(looks.relative).any():
        return []
    order = np.argsort(looks.along, kind="stable")[: each * bins]
    seen, high, low = (v[order].reshape(bins, each, 3) for v in (looks.relative, looks.high, looks.low))
    middle = np.median(seen, axis=1)
    spread = np.abs(seen - middle[:, None]).mean(1) * SD_OF_MEAN_MISS
    grain = spread @ LUMINANCE / np.maximum(middle @ LUMINANCE, 1e-4)
    independent = max(1.0, looks.size[0] * looks.size[1] * 16.0 / bins)
    burnt, above, below = high.all(2).mean(1), high.mean(1), low.mean(1)
    return [
        Sample(
            relative=middle[k],
            spread=spread[k],
            grain=float(grain[k]),
            count=each,
            independent=independent,
            bare=0.0,
            hot=0.0,
            burnt=float(burnt[k]),
            high=above[k],
            low=below[k],
            middle=looks.middle,
        )
        for k in range(bins)
    ]
