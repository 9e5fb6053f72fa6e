"""The field of boxes of a hand-ruled chart, and the lines that divide it into columns and rows.

Paint is told from paper by the paper's own light close by. Lines are set where little paint lies or
colours change along the whole field, as evenly as the picture lets them be.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.measuring.photo import Array, Photo, light_at

LONG_SIDE = 900
FIELD_SIDE = 400
PAINTED = 0.07
LEAST_FIELD = 0.03
EVENNESS = 1.5
MOST = 40
LINE_COST = 0.35


def painted(view: Array) -> NDArray[np.bool_]:
    """Where paint lies in a small view of linear light, shape (rows, cols, 3): darker than paper close by."""
    root = cv2.GaussianBlur(np.sqrt(np.clip(np.nan_to_num(view), 0, None)).astype(np.float32), (0, 0), 1.2)
    size = max(9, int(0.3 * max(root.shape[:2]))) | 1
    paper = cv2.dilate(root, cv2.getStructuringElement(cv2.MORPH_RECT, (size, size)))
    paper = cv2.GaussianBlur(paper, (0, 0), size / 4)
    share = (root / np.maximum(paper, 1e-3)).min(-1)
    return np.asarray(share < 1 - max(PAINTED, _paper_noise(share)))


def _paper_noise(share: NDArray[np.float32]) -> float:
    """Twice the scatter of the brightest tenth of a view, as what paper alone may do."""
    bright = share[share > np.quantile(share, 0.9)]
    return float(2.0 * (bright.max() - np.median(bright)))


def field_corners(photo: Photo) -> Array | None:
    """Outer corners of the field of boxes, (4, 2), (row, col), from the top left; None where none is seen."""
    rows, cols = photo.shape
    step = max(1.0, max(rows, cols) / LONG_SIDE)
    down, right = np.arange(0, rows - 1, step), np.arange(0, cols - 1, step)
    places = np.stack(np.meshgrid(down, right, indexing="ij"), axis=-1)
    light, _ = light_at(photo, places)
    paint = np.asarray(painted(light), dtype=np.uint8)
    opened: NDArray[Any] = cv2.morphologyEx(paint, cv2.MORPH_OPEN, np.ones((3, 3), np.uint8))
    close = max(3, int(0.02 * max(paint.shape))) | 1
    joined = cv2.morphologyEx(opened, cv2.MORPH_CLOSE, np.ones((close, close), np.uint8))
    count, labels, stats, _ = cv2.connectedComponentsWithStats(joined)
    whole = [k for k in range(1, count) if _inside(stats[k], paint.shape) and stats[k, 4] > 60]
    if not whole:
        return None
    largest = np.median(sorted((stats[k, 4] for k in whole), reverse=True)[: max(4, len(whole) // 2)])
    boxes = [k for k in whole if stats[k, 4] > 0.15 * largest]
    here = (np.isin(labels, boxes) & (opened > 0)).astype(np.uint8)
    outline = cv2.convexHull(np.argwhere(here)[:, ::-1].astype(np.int32))
    if cv2.contourArea(outline) < LEAST_FIELD * paint.size:
        return None
    around = cv2.approxPolyN(outline, 4, ensure_convex=True).reshape(4, 2).astype(np.float64)
    return _from_top_left(around[:, ::-1]) * step


def _inside(stats: NDArray[np.int32], shape: tuple[int, ...]) -> bool:
    """Say whether a blot stays off the border of the picture and is not the whole of it."""
    left, top, width, height, area = (int(v) for v in stats)
    free = left > 1 and top > 1 and left + width < shape[1] - 1 and top + height < shape[0] - 1
    return free and area > 0.25 * width * height


def _from_top_left(corners: Array) -> Array:
    """Order corners clockwise from the one nearest the picture's top left."""
    around = corners - corners.mean(0)
    ordered = corners[np.argsort(np.arctan2(around[:, 0], around[:, 1]))]
    return np.roll(ordered, -int(np.argmin(ordered.sum(1))), axis=0)


@dataclass(frozen=True, slots=True, eq=False)
class FlatField:
    """A field seen square on: ``light`` (rows, cols, 3) relative to paper, ``paint`` (rows, cols)."""

    light: Array
    paint: NDArray[np.bool_]


def flat_field(photo: Photo, corners: Array) -> FlatField:
    """Return the field seen square on, long side 400, in the light of the paper round it.

    Parameters
    ----------
    corners : array, shape (4, 2), (row, col), clockwise from the top left
    """
    width = np.linalg.norm(corners[1] - corners[0]) + np.linalg.norm(corners[2] - corners[3])
    height = np.linalg.norm(corners[3] - corners[0]) + np.linalg.norm(corners[2] - corners[1])
    across, down = (np.array([width, height]) / max(width, height) * FIELD_SIDE).round().astype(int)
    rim = FIELD_SIDE // 12
    x, y = np.meshgrid(np.arange(-rim, across + rim) + 0.5, np.arange(-rim, down + rim) + 0.5)
    view = field_view(corners, across, down)
    spread = np.stack([x, y, np.ones_like(x)], axis=-1) @ view.T
    light, _ = light_at(photo, (spread[..., :2] / spread[..., 2:])[..., ::-1])
    outside = (x < -3) | (y < -3) | (x > across + 3) | (y > down + 3)
    outside &= ~np.isnan(light).any(-1)
    relative: Array = np.nan_to_num(light / _paper_round(x, y, light, outside), nan=1.0)
    soft: NDArray[Any] = cv2.GaussianBlur(np.sqrt(np.clip(relative, 0, None)), (0, 0), 1.2)
    noise = 3.0 * float(np.std(soft[outside].min(-1))) if outside.any() else 0.0
    paint = soft.min(-1) < 1 - max(PAINTED, min(noise, 3 * PAINTED))
    inner = (slice(rim, -rim), slice(rim, -rim))
    return FlatField(relative[inner], np.asarray(paint[inner]))


def field_view(corners: Array, across: int, down: int) -> Array:
    """Return the homography from a flat field's pixels (x, y) to the picture's (col, row)."""
    flat = np.array([[0, 0], [across, 0], [across, down], [0, down]], dtype=np.float32)
    return np.asarray(
        cv2.getPerspectiveTransform(flat, corners[:, ::-1].astype(np.float32)), dtype=np.float64
    )


def _paper_round(x: Array, y: Array, light: Array, outside: NDArray[np.bool_]) -> Array:
    """Light of the paper over the whole view, by a plane through the brightest half of what lies round it."""
    if outside.sum() < 200:
        return np.full(light.shape, np.nanquantile(light, 0.95))
    terms = np.stack([np.ones_like(x), x / FIELD_SIDE, y / FIELD_SIDE], axis=-1)
    level = np.log(np.maximum(light, 1e-3))
    used = outside.copy()
    fit: Array = np.zeros((3, 3))
    for _ in range(4):
        fit = np.asarray(np.linalg.lstsq(terms[used], level[used], rcond=None)[0], dtype=np.float64)
        miss = (level - terms @ fit).mean(-1)
        used = outside & (miss > np.median(miss[used]) - 1.5 * np.std(miss[used])) & (miss < 0.1)
        if used.sum() < 100:
            break
    return np.asarray(np.exp(terms @ fit))


def straightened(field: FlatField, corners: Array, across: Array, down: Array) -> Array:
    """Corners moved so that rows and columns of boxes run straight, each box's own middle heard."""
    middles, seen = [], []
    for top, bottom in down:
        for left, right in across:
            room_x, room_y = 0.15 * (right - left), 0.15 * (bottom - top)
            piece = field.paint[
                max(0, int(top - room_y)) : int(bottom + room_y),
                max(0, int(left - room_x)) : int(right + room_x),
            ]
            if piece.mean() < 0.45:
                continue
            rows, cols = np.nonzero(piece)
            middles.append(((left + right) / 2, (top + bottom) / 2))
            seen.append(
                (
                    cols.mean() + max(0, int(left - room_x)) + 0.5,
                    rows.mean() + max(0, int(top - room_y)) + 0.5,
                )
            )
    if len(middles) < 6:
        return corners
    found: tuple[Any, Any] = cv2.findHomography(np.array(middles), np.array(seen), cv2.RANSAC, 4.0)
    moved = found[0]
    if moved is None:
        return corners
    height, width = field.paint.shape
    ends = np.array([[[0, 0], [width, 0], [width, height], [0, height]]], dtype=np.float64)
    shifted = cv2.perspectiveTransform(ends, moved)
    back = cv2.perspectiveTransform(shifted, field_view(corners, width, height))[0]
    return np.asarray(back[:, ::-1], dtype=np.float64)


def divisions(view: Array, paint: NDArray[np.bool_], number: int | None) -> Array:
    """Left and right end of each column of a flat field, shape (n, 2), in its pixels.

    Parameters
    ----------
    view : array, shape (rows, cols, 3)
    paint : array of bool, shape (rows, cols)
    number : of columns; None finds the number that pays best
    """
    gain = _line_gain(view, paint)
    found = [number] if number is not None else list(range(1, MOST))
    best: tuple[float, list[int]] | None = None
    for n in found:
        score, lines = _best_lines(gain, n)
        if best is None or score > best[0] + 1e-9:
            best = (score, lines)
    assert best is not None
    edges = [0, *best[1], paint.shape[1]]
    cover = paint.mean(0)
    ends = [_trimmed(cover, a, b) for a, b in pairwise(edges)]
    return np.array(ends, dtype=np.float64)


def _line_gain(view: Array, paint: NDArray[np.bool_]) -> Array:
    """Return what a dividing line at each place pays: bare paper and change of colour, less what is usual."""
    bare = 1.0 - paint.mean(0)
    bare = np.clip((bare - np.median(bare)) / max(0.25, float(np.ptp(bare))), 0, None)
    log = np.log(np.clip(view, 0.01, None))
    root: NDArray[Any] = cv2.GaussianBlur(log, (0, 0), 1.0)
    change = np.zeros(paint.shape[1])
    change[2:-2] = np.minimum(np.abs(root[:, 4:] - root[:, :-4]).sum(-1), 0.5).mean(0)
    change = np.clip((change - np.median(change)) / 0.1, 0, 2)
    gain = np.maximum(bare * 2.0, change)
    return _one_peak_each(cv2.GaussianBlur(gain[None], (0, 0), 1.5)[0]) - LINE_COST


def _one_peak_each(gain: Array) -> Array:
    """Draw every stretch of gain together to one narrow peak, so that one gap pays for one line."""
    peaks = np.zeros_like(gain)
    above = np.concatenate([[False], gain > LINE_COST, [False]])
    starts, stops = np.flatnonzero(above[1:] & ~above[:-1]), np.flatnonzero(~above[1:] & above[:-1])
    for start, stop in zip(starts, stops, strict=True):
        if start == 0 or stop == len(gain):
            continue
        weight = gain[start:stop]
        middle = round(float(np.average(np.arange(start, stop), weights=weight)))
        peaks[middle] = max(peaks[middle], float(weight.max()))
    return np.asarray(np.maximum(cv2.GaussianBlur(peaks[None], (0, 0), 1.5)[0] * 3.76, peaks))


def _best_lines(gain: Array, number: int) -> tuple[float, list[int]]:
    """Place ``number - 1`` lines so that they pay most while columns stay about even (dynamic programme)."""
    size = len(gain)
    pitch = size / number
    if number == 1:
        return 0.0, []
    places = np.arange(size)
    apart = places[None, :] - places[:, None]
    cost = np.where(
        (apart > 0.45 * pitch) & (apart < 1.8 * pitch), EVENNESS * (apart / pitch - 1) ** 2, np.inf
    )
    total = np.where(places > 0.4 * pitch, gain - EVENNESS * (places / pitch - 1) ** 2, -np.inf)
    back = []
    for _ in range(number - 2):
        options = total[:, None] - cost
        before = options.argmax(0)
        back.append(before)
        total = options[before, places] + gain
    total = total - EVENNESS * ((size - places) / pitch - 1) ** 2
    line = int(total.argmax())
    score, lines = float(total[line]), [line]
    for before in reversed(back):
        line = int(before[line])
        lines.append(line)
    return score, lines[::-1]


def _trimmed(cover: Array, start: int, stop: int) -> tuple[float, float]:
    """Take bare paper off both ends of a column."""
    piece = cover[start:stop]
    filled = np.flatnonzero(piece > 0.5 * np.quantile(piece, 0.8))
    if not len(filled):
        return float(start), float(stop)
    return float(start + filled[0]), float(start + filled[-1] + 1)
