"""Three shapes that a sheet may take in a picture, each fitted to marks of known place.

A shape takes points ``(x, y)`` in mm, shape (..., 2), to places ``(row, col)`` in the picture.
"""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np
from scipy.interpolate import RBFInterpolator
from scipy.optimize import least_squares

from halfpan.core.measuring.photo import Array

UNIT_MM = 148.0
"""Paper coordinates are divided by this inside the fits (half the long side of A4)."""

BEND_SMOOTHING = 1e-3
PIXEL_NOISE = 0.35

Shape = Callable[[Array], Array]


def project(homography: Array, points: Array) -> Array:
    """Apply a homography to (x, y) and give (row, col)."""
    given = np.asarray(points, dtype=np.float64)
    if given.size == 0:
        return given
    row_first: Array = homography[[1, 0, 2]]
    seen = cv2.perspectiveTransform(given.reshape(-1, 1, 2), row_first)
    return np.asarray(seen, dtype=np.float64).reshape(given.shape)


def homography_of(points: Array, places: Array) -> Array:
    """Fit a homography from (x, y, 1) to (col, row, 1)."""
    homography, _ = cv2.findHomography(points.reshape(-1, 2), places.reshape(-1, 2)[:, ::-1])
    return np.asarray(homography, dtype=np.float64)


def flat(points: Array, places: Array) -> Shape:
    """Fit a flat sheet before a perfect lens."""
    homography = homography_of(points, places)
    return lambda p: project(homography, p)


def bent(points: Array, places: Array) -> Shape:
    """Fit a homography and a thin-plate spline on what it leaves."""
    homography = homography_of(points, places)
    left = (places - project(homography, points)).reshape(-1, 2)
    spline = RBFInterpolator(points.reshape(-1, 2) / UNIT_MM, left, smoothing=BEND_SMOOTHING)
    return lambda p: project(homography, p) + spline(p.reshape(-1, 2) / UNIT_MM).reshape(p.shape)


def curled(points: Array, places: Array, picture: tuple[int, int]) -> Shape:
    """Fit a pinhole camera with one lens term before a sheet that sags as a second-degree surface."""
    middle = points.reshape(-1, 2).mean(0)
    paper = (points.reshape(-1, 2) - middle) / UNIT_MM
    seen = places.reshape(-1, 2)[:, ::-1]
    centre = np.array([picture[1] - 1, picture[0] - 1]) / 2
    usual = 0.85 * max(picture)
    start = _pose(paper, seen, centre, usual)

    def misses(values: Array) -> Array:
        near = _seen(values, paper, centre, usual) - seen
        doubts = np.concatenate([values[6:7] / 0.25, values[7:8] / 0.08, values[8:] / (4.0 / UNIT_MM)])
        return np.concatenate([near.ravel() / PIXEL_NOISE, doubts])

    found = least_squares(
        misses, start, method="lm", x_scale=np.array([0.1] * 6 + [0.2, 0.05] + [0.03] * 3), max_nfev=400
    )
    values = found.x
    return lambda p: _seen(values, (p.reshape(-1, 2) - middle) / UNIT_MM, centre, usual)[:, ::-1].reshape(
        p.shape
    )


def _pose(paper: Array, seen: Array, centre: Array, usual: float) -> Array:
    flat = np.column_stack([paper, np.zeros(len(paper))])
    lens = np.array([[usual, 0, centre[0]], [0, usual, centre[1]], [0, 0, 1]])
    ok, turn, shift = cv2.solvePnP(flat, np.ascontiguousarray(seen), lens, None, flags=cv2.SOLVEPNP_IPPE)
    pose = np.concatenate([np.ravel(turn), np.ravel(shift)]) if ok else np.array([0, 0, 0, 0, 0, 2.0])
    return np.concatenate([pose, np.zeros(5)])


def _seen(values: Array, paper: Array, centre: Array, usual: float) -> Array:
    """(col, row) of points of a sagging sheet: pose 6, ln focal length, lens term, sag 3."""
    x, y = paper[:, 0], paper[:, 1]
    sag = values[8] * x * x + values[9] * x * y + values[10] * y * y
    turn, _ = cv2.Rodrigues(values[:3])
    space = np.column_stack([x, y, sag]) @ turn.T + values[3:6]
    ray = space[:, :2] / np.where(np.abs(space[:, 2:]) < 1e-6, 1e-6, space[:, 2:])
    r2 = (ray**2).sum(1, keepdims=True)
    return np.asarray(centre + usual * np.exp(values[6]) * ray * (1 + values[7] * r2))
