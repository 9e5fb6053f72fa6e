"""A 24-patch target in the picture: where it lies, which way up, and what the photo has of its patches.

Four rows of six patches, the neutral row last. Corners are the outer corners of the field of patches,
clockwise as the patches run: by the first patch, the last of the first row, the last patch, the first of
the last row. A place in the picture is (row, col).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.screen import xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.edges import looking_grid, patch_edges
from halfpan.core.measuring.patches import Patches
from halfpan.core.measuring.photo import Array, Photo, light_at
from halfpan.errors import UnreadablePhoto

ROWS, COLUMNS = 4, 6
GAP_SHARE = 0.13
"""Share of the distance between patches that is gap; the usual targets have 0.09 to 0.2 (measured here)."""
LOOKED_AT = 0.22
"""Half width of the looked-at middle of a patch, as a share of the distance between patches."""
LONG_SIDES = (1500, 2200, 1000)
LOOKS = 25
TRIM = 0.15
DARK_VALUE = 3 / 255
COVERED_SPREAD = 0.25
CALM = 0.05
FLATTEST, STEEPEST = 0.3, 1.6
"""Contrast that a tone curve may leave; flatter than this it is no target at all."""
COVERED_LOG = 0.75
FEWEST = 8
PUBLISHED_DOUBT = 1.0
"""SD, in CIEDE2000, of one target's patches about the published mean; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class TargetFound:
    """Where a target lies: ``corners`` (4, 2) of (row, col), and its ``patches`` (covered ones left out)."""

    corners: Array
    patches: Patches


def find_target(photo: Photo, colours: Array) -> TargetFound | None:
    """Find a 24-patch target by itself.

    Parameters
    ----------
    photo : Photo
    colours : array, shape (24, 3), Lab of the patches, in reading order

    Returns
    -------
    The target, or None where there is none to be seen (give its corners by hand then). A target far from
    square to the camera (perspective of more than some 8 %) or much covered is not found by itself.
    """
    for long_side in LONG_SIDES:
        picture, scale = _small(photo, long_side)
        finder: Any = cv2.mcc.CCheckerDetector.create()
        finder.setColorChartType(cv2.mcc.MCC24)
        if not finder.process(picture):
            continue
        box = np.asarray(finder.getBestColorChecker().getBox(), dtype=np.float64).reshape(4, 2)
        corners = (box[:, ::-1] + 0.5) / scale - 0.5
        try:
            return read_target(photo, corners, colours)
        except UnreadablePhoto:
            continue
    return None


def read_target(photo: Photo, corners: Array, colours: Array) -> TargetFound:
    """Read a target by its four corners, whichever corner comes first.

    Parameters
    ----------
    photo : Photo
    corners : array, shape (4, 2), (row, col) of the outer corners, in order round the target
    colours : array, shape (24, 3), Lab of the patches, in reading order

    Raises
    ------
    UnreadablePhoto
        When fewer than eight patches show the colours of a target there, whichever way it is turned.
    """
    corners = np.asarray(corners, dtype=np.float64)
    known = _linear(colours)
    corners = settle_corners(photo, corners)
    turns = [np.roll(c, -k, axis=0) for c in (corners, corners[::-1]) for k in range(4)]
    read = [(turned, *_sample(photo, turned)) for turned in turns]
    seen = [_uncovered(light, spread, known) for _, light, spread, *_ in read]
    best = min(range(len(read)), key=lambda k: (-seen[k][0].sum() // 3, seen[k][1]))
    turned, light, _, clipped, places = read[best]
    shown = seen[best][0]
    if shown.sum() < FEWEST:
        raise UnreadablePhoto(
            f"No 24-patch target can be seen at the corners given in {photo.name}; "
            "give the outer corners of its patches, in order round it."
        )
    names = tuple(f"{chr(65 + k // COLUMNS)}{k % COLUMNS + 1}" for k in range(ROWS * COLUMNS))
    patches = Patches(light, np.asarray(colours, float), places, clipped, PUBLISHED_DOUBT, names)
    return TargetFound(turned, patches.keep(shown))


def settle_corners(photo: Photo, corners: Array) -> Array:
    """Move corners pointed at by hand, or roughly found, so that patches lie where they are seen to lie.

    At least eight patches must stand out from the target's ground and agree; else the corners stay.
    """
    width, height = COLUMNS - GAP_SHARE, ROWS - GAP_SHARE
    field = np.array([[0, 0], [width, 0], [width, height], [0, height]])
    turned = corners
    if np.linalg.norm(corners[1] - corners[0]) < np.linalg.norm(corners[2] - corners[1]):
        turned = np.roll(corners, -1, axis=0)
    for _ in range(3):
        light, _ = light_at(photo, patch_places(turned, looking_grid()))
        edges = [patch_edges(one) for one in light]
        found = [(k, e) for k, e in enumerate(edges) if e is not None and _like_a_patch(e)]
        if len(found) < FEWEST:
            break
        nominal = np.array([(k % COLUMNS, k // COLUMNS) for k, _ in found]) + (1 - GAP_SHARE) / 2
        seen = nominal + np.array([((e[0] + e[2]) / 2, (e[1] + e[3]) / 2) for _, e in found])
        moved: tuple[Any, Any] = cv2.findHomography(nominal, seen, cv2.RANSAC, 0.06)
        if moved[0] is None or moved[1].sum() < FEWEST:
            break
        moved_field = cv2.perspectiveTransform(field[None], moved[0])[0]
        view = _view(turned)
        turned = cv2.perspectiveTransform(moved_field[None], view)[0][:, ::-1]
    return np.asarray(turned, dtype=np.float64)


def _like_a_patch(edges: Array) -> bool:
    """Say whether a rectangle is as large as a patch, and near where one should be."""
    width, height = edges[2] - edges[0], edges[3] - edges[1]
    off = np.abs(edges[:2] + edges[2:]).max() / 2
    return bool(0.6 < width < 1.0 and 0.6 < height < 1.0 and off < 0.4)


def _view(corners: Array) -> Array:
    """Return the homography from distances between patches to (col, row)."""
    width, height = COLUMNS - GAP_SHARE, ROWS - GAP_SHARE
    field = np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float32)
    ends = np.asarray(corners, dtype=np.float32)[:, ::-1].copy()
    return np.asarray(cv2.getPerspectiveTransform(field, ends), dtype=np.float64)


def patch_places(corners: Array, at: Array | None = None) -> Array:
    """Places (row, col) in the picture of patch middles, or of points about them.

    Parameters
    ----------
    corners : array, shape (4, 2)
    at : array, shape (m, 2), offsets (x, y) from the middle as shares of the distance between patches

    Returns
    -------
    array, shape (24, 2), or (24, m, 2) when ``at`` is given
    """
    view = _view(corners)
    x, y = np.meshgrid(np.arange(COLUMNS), np.arange(ROWS))
    middles = np.stack([x.ravel(), y.ravel()], axis=-1) + (1 - GAP_SHARE) / 2
    points = middles[:, None] + (np.zeros((1, 2)) if at is None else at)
    spread = np.concatenate([points, np.ones((*points.shape[:-1], 1))], axis=-1) @ view.T
    places: Array = (spread[..., :2] / spread[..., 2:])[..., ::-1]
    return places[:, 0] if at is None else places


def _small(photo: Photo, long_side: int) -> tuple[NDArray[np.uint8], float]:
    """Return a reduced picture of eight bits, blue first, and its scale."""
    rows, cols = photo.shape
    scale = min(1.0, long_side / max(rows, cols))
    step = max(1, int(0.5 / scale))
    small: NDArray[Any] = np.ascontiguousarray(photo.pixels[::step, ::step, ::-1])
    if small.dtype == np.uint16:
        light = np.sqrt(small.astype(np.float32) / 65535) if photo.decode[32768, 1] > 0.4 else small / 65535
        small = np.rint(np.clip(light, 0, 1) * 255).astype(np.uint8)
    size = (round(cols * scale), round(rows * scale))
    return np.asarray(cv2.resize(small, size, interpolation=cv2.INTER_AREA), dtype=np.uint8), scale


def _sample(photo: Photo, corners: Array) -> tuple[Array, Array, Array, Array]:
    """Light, relative spread, clipped share and middle of the 24 patches."""
    axis = np.linspace(-LOOKED_AT, LOOKED_AT, LOOKS)
    at = np.stack(np.meshgrid(axis, axis), axis=-1).reshape(-1, 2)
    places = patch_places(corners, at)
    seen, burnt = light_at(photo, places)
    drowned = (seen <= photo.decode[int(DARK_VALUE * (len(photo.decode) - 1))].min()).any(-1)
    seen = np.nan_to_num(seen, nan=0.0)
    order = np.argsort(seen @ np.array([0.25, 0.60, 0.15]), axis=1)
    cut = int(TRIM * order.shape[1])
    kept = np.take_along_axis(seen, order[:, cut : order.shape[1] - cut, None], axis=1)
    light = kept.mean(axis=1)
    spread = kept[..., 1].std(axis=1) / np.maximum(light.mean(axis=1), 0.01)
    return light, spread, (burnt | drowned).mean(axis=1), patch_places(corners)


def _linear(colours: Array) -> Array:
    """Linear sRGB of Lab colours, kept above black."""
    return np.maximum(xyz_to_linear_srgb(lab_to_xyz(np.asarray(colours, dtype=np.float64))), 0.004)


def _uncovered(light: Array, spread: Array, known: Array) -> tuple[NDArray[np.bool_], float]:
    """Which patches show the colour they should, and the typical miss of those (log light).

    Light and known colour are compared as logarithms, the gain of each channel and a common slope (any
    tone curve, any white balance) taken as the medians: half of the patches may lie to no account.
    """
    level = light / np.maximum(np.median(light / known, axis=0), 1e-6)
    opponent, expected = _opponent(np.maximum(level, 0.0)), _opponent(known)
    shown = np.ones(len(light), dtype=bool)
    miss = np.zeros_like(opponent)
    for _ in range(6):
        for c in range(3):
            x, y = expected[shown, c], opponent[shown, c]
            slope = _median_slope(x, y) if shown.sum() >= FEWEST // 2 else 1.0
            if slope < FLATTEST:
                return np.zeros(len(light), dtype=bool), float("inf")
            slope = min(slope, STEEPEST)
            miss[:, c] = opponent[:, c] - slope * expected[:, c]
            miss[:, c] -= np.median(miss[shown, c])
        far = np.sqrt((miss**2).sum(1))
        again = (far < COVERED_LOG) & (spread < COVERED_SPREAD)
        if again.sum() < FEWEST // 2 or np.array_equal(again, shown):
            break
        shown = again
    far = np.sqrt((miss**2).sum(1))
    shown = (far < COVERED_LOG) & (spread < COVERED_SPREAD)
    return shown, float(np.median(far[shown])) if shown.any() else float("inf")


def _opponent(level: Array) -> Array:
    """Logarithms of light, kept calm near black: red against green, blue against green, and their mean."""
    log = np.log(level + CALM)
    return np.stack([log[:, 0] - log[:, 1], log[:, 2] - log[:, 1], log.mean(1)], axis=-1)


def _median_slope(x: Array, y: Array) -> float:
    """Theil and Sen's median of all pairwise slopes."""
    dx, dy = x[:, None] - x[None], y[:, None] - y[None]
    usable = np.abs(dx) > 0.15
    return float(np.median(dy[usable] / dx[usable])) if usable.any() else 1.0
