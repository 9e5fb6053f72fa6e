"""Place the corners of printed marks to a small part of a pixel: where their straight sides meet.

The sides are looked for in linear light. A blurred edge stands where half of the light is gone, and that is
the same place whatever the blur; in the stored values, and by gradients about the corner itself, marks came
out half a pixel too small on every side, which a bent sheet takes for distance.
"""

from __future__ import annotations

import numpy as np

from halfpan.core.measuring.photo import Array, Photo

MODULES = 6
"""A printed mark is six modules wide, its black border counted."""

REACH = 0.6
"""How far to each side of a mark's edge is looked, in modules: its border is one wide."""

LEAST_REACH = 2.0
"""In pixels; a mark so small keeps its first guess."""

ALONG = np.linspace(0.12, 0.88, 40)
"""Places along a side, its ends left out: corners are rounded by blur."""

ACROSS = np.linspace(-1.0, 1.0, 17)
ENDS = 4
"""Places of a look across a side, at either end of it, that stand for the ink and for the paper."""

LEAST_RISE = 0.25
"""How much darker than the paper the ink has to be, as a share of the paper's light."""

FEWEST, NEAR = 0.6, 0.25
"""Share of the places along a side that have to agree on where it lies, and how nearly, in reaches."""

FURTHEST = 0.06
"""How far a corner may move from its first guess, in sides of the mark, or else three pixels."""

ROUNDS = 2


def refined(photo: Photo, marks: Array) -> Array:
    """Place the four corners of each mark on the full picture.

    Parameters
    ----------
    photo : Photo
    marks : array, shape (m, 4, 2), first guesses (row, col), in order round each mark

    Returns
    -------
    array, shape (m, 4, 2); a mark keeps its first guess where it is too small or at the rim of the picture,
    or where one of its sides cannot be seen for most of its length.
    """
    side = np.linalg.norm(marks - np.roll(marks, 1, axis=1), axis=-1).mean(1)
    reach = REACH * side / MODULES
    found = np.array(marks, dtype=float)
    clear = reach >= LEAST_REACH
    for _ in range(ROUNDS):
        found[clear] = _once(photo, found[clear], reach[clear])
        clear &= np.isfinite(found).all((1, 2))
    away = np.linalg.norm(found - marks, axis=-1).max(1)
    clear &= away < np.maximum(3.0, FURTHEST * side)
    return np.where(clear[:, None, None], found, marks)


def _once(photo: Photo, marks: Array, reach: Array) -> Array:
    """Move each mark's corners to where its sides are seen to meet; NaN where one of them is not seen."""
    way = np.roll(marks, -1, axis=1) - marks
    out = np.stack([way[..., 1], -way[..., 0]], axis=-1) / np.linalg.norm(way, axis=-1, keepdims=True)
    middle = marks.mean(1, keepdims=True)
    out *= np.sign(((marks + 0.5 * way - middle) * out).sum(-1, keepdims=True))
    along = marks[:, :, None] + ALONG[:, None] * way[:, :, None]
    across = (reach[:, None] * ACROSS)[:, None, None, :, None] * out[:, :, None, None]
    offset = reach[:, None, None] * _edges(_light_between(photo, along[..., None, :] + across))
    start, end = _straight(offset, NEAR * reach)
    return _crossings(marks + start[..., None] * out, marks + way + end[..., None] * out)


def _edges(seen: Array) -> Array:
    """Where an edge lies in looks across it (..., 17), from dark to light, -1 to 1; NaN for no clear one."""
    ink, paper = np.median(seen[..., :ENDS], axis=-1), np.median(seen[..., -ENDS:], axis=-1)
    weight = np.ones(len(ACROSS))
    weight[[0, -1]] = 0.5
    rise = paper - ink
    with np.errstate(invalid="ignore", divide="ignore"):
        dark = (paper - seen @ weight / weight.sum()) / rise
        return np.where(rise > LEAST_RISE * paper, 2 * dark - 1, np.nan)


def _straight(offset: Array, near: Array) -> tuple[Array, Array]:
    """Fit lines through how far out edges lie along their sides, (m, 4, n) to two (m, 4): at both ends."""
    known = np.isfinite(offset)
    middle = np.median(np.where(known, offset, 0.0), axis=-1, keepdims=True)
    good = known & (np.abs(np.where(known, offset, np.inf) - middle) < near[:, None, None])
    weight, value = good.astype(float), np.where(good, offset, 0.0)
    total = np.maximum(weight.sum(-1), 1.0)
    centre = weight @ ALONG / total
    apart = weight * (ALONG - centre[..., None])
    slope = (apart * value).sum(-1) / np.maximum((apart * ALONG).sum(-1), 1e-9)
    start = value.sum(-1) / total - slope * centre
    seen = good.mean(-1) >= FEWEST
    return np.where(seen, start, np.nan), np.where(seen, start + slope, np.nan)


def _crossings(starts: Array, ends: Array) -> Array:
    """Where each side meets the one before it, shape (m, 4, 2)."""
    way, before = ends - starts, np.roll(starts, 1, axis=1)
    way_before = np.roll(way, 1, axis=1)
    gap = before - starts
    turn = way[..., 0] * way_before[..., 1] - way[..., 1] * way_before[..., 0]
    part = (gap[..., 0] * way_before[..., 1] - gap[..., 1] * way_before[..., 0]) / turn
    return np.asarray(starts + part[..., None] * way)


def _light_between(photo: Photo, places: Array) -> Array:
    """Linear light of the three channels together, between pixels; NaN off the picture."""
    first = np.floor(places).astype(np.intp)
    inside = np.all((first >= 0) & (first + 1 < photo.shape), axis=-1)
    row, col = np.moveaxis(np.where(inside[..., None], first, 0), -1, 0)
    down, across = np.moveaxis(places - first, -1, 0)
    light = np.zeros(row.shape)
    for step_down, high in enumerate((1 - down, down)):
        for step_across, wide in enumerate((1 - across, across)):
            stored = photo.pixels[row + step_down, col + step_across]
            light += high * wide * sum(photo.decode[stored[..., c], c] for c in range(3))
    return np.where(inside, light, np.nan)
