"""Where a point of the sheet lies in the picture: the one place where paper and pixels meet.

A point on paper is ``(x, y)`` in mm from the top left of the sheet; a place in the picture is
``(row, col)``. Three shapes are tried: a flat sheet seen by a perfect lens; that and a soft bend of what is
left over; a camera with a lens before a curled sheet. The one that best foretells a mark left out is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Page
from halfpan.core.measuring.bend import Shape, bent, curled, flat, homography_of, project
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.raster import between
from halfpan.errors import UnreadablePhoto

FLAT_ENOUGH_MM = 0.1
WRONG_MM = 2.5
LEAST_SPAN = 0.25
"""Share of the area between all marks that those seen have to span."""

AGREEING = 0.7
"""Share of the marks found that have to lie where one sheet would have them."""

STEP_MM = 4.0


@dataclass(frozen=True, slots=True, eq=False)
class Flattening:
    """A sheet of paper in a picture.

    Attributes
    ----------
    homography : array, shape (3, 3), from (x, y, 1) in mm to (col, row, 1)
    bend : array, shape (rows, cols, 2), what to add to (row, col), on a raster of ``STEP_MM``; or None
    origin : (x, y) of the raster's first point
    shape : "flat", "bent" or "curled": which shape was taken
    left_out_mm : rms miss at marks left out of the fit; NaN where there were too few to leave any out
    pixels_per_mm : at the middle of what was fitted
    hull : array, shape (n, 2), mm, the outline of the marks it rests on; None for one given by hand
    """

    homography: Array
    bend: Array | None
    origin: tuple[float, float]
    shape: str
    left_out_mm: float
    pixels_per_mm: float
    hull: Array | None = None


def to_picture(flattening: Flattening, points: Array) -> Array:
    """Places (row, col) of points (x, y) in mm; shape (..., 2) to (..., 2)."""
    places = project(flattening.homography, points)
    if flattening.bend is None:
        return places
    at = (points - np.asarray(flattening.origin)) / STEP_MM
    return np.asarray(places + between(flattening.bend, at))


def to_paper(flattening: Flattening, places: Array) -> Array:
    """Points (x, y) in mm of places (row, col); the inverse of ``to_picture``, to 0.01 mm on the sheet."""
    back: Array = np.asarray(np.linalg.inv(flattening.homography), dtype=np.float64)
    points = project(back, places[..., ::-1])[..., ::-1]
    for _ in range(4 if flattening.bend is not None else 0):
        miss = places - to_picture(flattening, points)
        moved = project(back, (project(flattening.homography, points) + miss)[..., ::-1])[..., ::-1]
        points = moved
    return points


def beyond_marks(flattening: Flattening, point: tuple[float, float]) -> float:
    """How far (mm) a point of the sheet lies outside the outline of the marks that were seen; 0 inside."""
    if flattening.hull is None:
        return 0.0
    inside = cv2.pointPolygonTest(flattening.hull.astype(np.float32), point, measureDist=True)
    return max(0.0, -float(inside))


def from_points(points: Array, places: Array) -> Flattening:
    """Flatten by four or more points given by hand: (x, y) in mm and their (row, col)."""
    found: tuple[Any, Any] = cv2.findHomography(np.asarray(points, float), np.asarray(places, float)[:, ::-1])
    homography = found[0]
    if homography is None:
        raise UnreadablePhoto("The four corners do not span a sheet: give them in order, clockwise.")
    return Flattening(homography, None, (0.0, 0.0), "flat", float("nan"), _density(homography, points))


def flatten(
    page: Page, marks: Mapping[int, Array], picture: tuple[int, int], name: str = "the picture"
) -> Flattening:
    """Fit the sheet in the picture from the marks that were found.

    Parameters
    ----------
    page : Page, whose marks are known in mm
    marks : corners (4, 2) of (row, col) of each mark found, by id
    picture : rows and columns of the picture
    name : what to call the picture in a refusal

    Raises
    ------
    UnreadablePhoto
        When fewer than four of the page's marks were found, or they do not lie as on this page.
    """
    known = {mark.id: np.asarray(mark.corners, float) for mark in page.marks}
    ids = [number for number in marks if number in known]
    if len(ids) < min(4, len(known)):
        raise UnreadablePhoto(
            f"Only {len(ids)} of the {len(known)} corner marks of this page were found in {name}; four are "
            "needed. Take the picture again with every corner in it, or uncover the marks."
        )
    points = np.stack([known[number] for number in ids])
    places = np.stack([marks[number] for number in ids])
    points, places = _agreeing(points, places, name)
    every = np.concatenate([known[number] for number in known])
    if _spanned(points) < LEAST_SPAN * _spanned(every):
        raise UnreadablePhoto(
            f"The {len(points)} marks that can be seen in {name} lie along one side of the sheet, so the "
            "other side cannot be placed. Take the picture with every corner in it, or uncover the marks."
        )
    return _chosen(points, places, picture, name)


def _agreeing(points: Array, places: Array, name: str) -> tuple[Array, Array]:
    """Leave out marks that do not lie where the others say (false finds), 8 mm being no bend of a sheet."""
    found: tuple[Any, Any] = cv2.findHomography(
        points.reshape(-1, 2), places.reshape(-1, 2)[:, ::-1], cv2.RANSAC, 0.02 * _extent(places)
    )
    homography = found[0]
    if homography is None:
        raise UnreadablePhoto(f"The marks found in {name} do not lie on one sheet.")
    back = project(np.linalg.inv(homography), places[..., ::-1])[..., ::-1]
    good = np.linalg.norm(back - points, axis=-1).max(1) < 8.0
    if good.sum() < max(min(4, len(points)), AGREEING * len(points)):
        raise UnreadablePhoto(
            f"The marks found in {name} do not lie as they do on this page; is it another chart, or was it "
            "printed on another size of sheet?"
        )
    return points[good], places[good]


def _spanned(points: Array) -> float:
    """Area in square mm that marks span."""
    return float(cv2.contourArea(cv2.convexHull(points.reshape(-1, 2).astype(np.float32))))


def _extent(places: Array) -> float:
    return float(np.ptp(places.reshape(-1, 2), axis=0).max())


def _chosen(points: Array, places: Array, picture: tuple[int, int], name: str) -> Flattening:
    fits: dict[str, Callable[[Array, Array], Shape]] = {
        "flat": flat,
        "bent": bent,
        "curled": lambda p, q: curled(p, q, picture),
    }
    density = _density(homography_of(points, places), points)
    scores = {"flat": _left_out(flat, points, places) / density}
    if not scores["flat"] < FLAT_ENOUGH_MM and len(points) >= 5:
        scores |= {kind: _left_out(fits[kind], points, places) / density for kind in ("bent", "curled")}
    kind = min(scores, key=lambda k: scores[k])
    if scores[kind] > WRONG_MM:
        raise UnreadablePhoto(
            f"The marks in {name} miss their places on this page by {scores[kind]:.1f} mm; is it another "
            "chart, or is the sheet folded?"
        )
    homography = homography_of(points, places)
    bend, origin = None, (0.0, 0.0)
    if kind != "flat":
        bend, origin = _raster(fits[kind](points, places), homography, points)
    hull = cv2.convexHull(points.reshape(-1, 2).astype(np.float32)).reshape(-1, 2).astype(np.float64)
    return Flattening(homography, bend, origin, kind, scores[kind], density, hull)


def _left_out(fit: Callable[[Array, Array], Shape], points: Array, places: Array) -> float:
    """Rms miss in pixels at each mark when it alone is left out; NaN with fewer than five marks."""
    if len(points) < 5:
        return float("nan")
    misses = []
    for k in range(len(points)):
        others = np.arange(len(points)) != k
        shape = fit(points[others], places[others])
        misses.append(((shape(points[k]) - places[k]) ** 2).sum(-1))
    return float(np.sqrt(np.mean(misses)))


def _density(homography: Array, points: Array) -> float:
    """Pixels per mm at the middle of some points."""
    middle: Array = np.asarray(points, dtype=np.float64).reshape(-1, 2).mean(0)
    around = project(homography, middle + np.array([(0, 0), (1, 0), (0, 1)], float))
    return float(np.sqrt(abs(np.linalg.det(around[1:] - around[0]))))


def _raster(shape: Shape, homography: Array, points: Array) -> tuple[Array, tuple[float, float]]:
    """Write down, on a raster over the sheet and 40 mm around it, what a shape adds to the homography."""
    flat = points.reshape(-1, 2)
    low, high = flat.min(0) - 40, flat.max(0) + 40
    xs = np.arange(low[0], high[0] + STEP_MM, STEP_MM)
    ys = np.arange(low[1], high[1] + STEP_MM, STEP_MM)
    grid: NDArray[np.float64] = np.stack(np.meshgrid(xs, ys), axis=-1)
    return shape(grid) - project(homography, grid), (float(xs[0]), float(ys[0]))
