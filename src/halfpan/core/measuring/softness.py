"""How soft a picture is: the blur of lens, sensor and file together, told by the sides of the printed marks.

A mark's side is as sharp as print can be, so what the picture makes of it is the picture's own blur. It is a
blur of plain contrast: a camera that smooths faint detail away and sharpens strong edges is softer in a
wash than at its marks.
"""

from __future__ import annotations

import numpy as np
from scipy.special import ndtr

from halfpan.core.chart.sheet import Page
from halfpan.core.measuring.corners import ALONG, MODULES, REACH, refined
from halfpan.core.measuring.flatten import Flattening, to_picture
from halfpan.core.measuring.photo import Array, Photo

FURTHEST_PX = 6.0
"""How far to each side of an edge pixels are looked at, at the most; a mark's border is one module wide."""

LEAST_REACH = 3.0
LEAST_RISE = 0.25
BLURS = np.arange(0.2, 3.05, 0.1)
"""Blurs that are tried: standard deviations in pixels."""

ENOUGH = 4
"""So many marks tell as much as all of them."""


def blur_mm(photo: Photo, flattening: Flattening, page: Page) -> float | None:
    """Return the picture's own blur on the sheet as a standard deviation in mm, the middle one of its marks.

    None where no mark shows its sides (or the page has none). A pixel's own width is part of it.
    """
    some = page.marks[:: max(1, len(page.marks) // ENOUGH)]
    marks = [to_picture(flattening, np.asarray(mark.corners, dtype=float)) for mark in some]
    if not marks:
        return None
    found = [blur for mark in refined(photo, np.stack(marks)) if (blur := _blur_px(photo, mark)) is not None]
    return float(np.median(found)) / flattening.pixels_per_mm if found else None


def _blur_px(photo: Photo, mark: Array) -> float | None:
    """Blur of the four sides of a mark (4, 2); None where ink and paper do not stand apart."""
    looks = [_across(photo, mark[k], mark[(k + 1) % 4], mark.mean(0)) for k in range(4)]
    if any(look is None for look in looks):
        return None
    away, level = np.concatenate([look for look in looks if look is not None], axis=1)
    misses = ((level - ndtr(away / BLURS[:, None])) ** 2).sum(1)
    best = int(np.clip(misses.argmin(), 1, len(BLURS) - 2))
    before, there, after = misses[best - 1 : best + 2]
    step = BLURS[1] - BLURS[0]
    return float(BLURS[best] + 0.5 * step * (before - after) / (before - 2 * there + after))


def _across(photo: Photo, start: Array, end: Array, inside: Array) -> tuple[Array, Array] | None:
    """Pixels about one side: how far out each lies, and its light from ink (0) to paper (1)."""
    way = (end - start) / np.linalg.norm(end - start)
    out = np.array([way[1], -way[0]])
    out *= np.sign(((start + end) / 2 - inside) @ out)
    reach = min(FURTHEST_PX, REACH / MODULES * float(np.linalg.norm(end - start)))
    if reach < LEAST_REACH:
        return None
    steps = np.arange(-reach, reach + 0.5)
    places = start + ALONG[:, None, None] * (end - start) + steps[:, None] * out
    pixels = np.rint(places).astype(np.intp).reshape(-1, 2)
    if pixels.min() < 0 or np.any(pixels >= photo.shape):
        return None
    away = (pixels - start) @ out
    stored = photo.pixels[pixels[:, 0], pixels[:, 1]]
    light = np.asarray(sum(photo.decode[stored[:, c], c] for c in range(3)), dtype=float)
    far = 0.7 * reach
    ink, paper = np.median(light[away < -far]), np.median(light[away > far])
    if paper - ink < LEAST_RISE * paper:
        return None
    return away, (light - ink) / (paper - ink)
