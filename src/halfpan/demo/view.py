"""Where a sheet lies in a picture: a pinhole, its lens, and a sheet that may curl.

A place on the sheet is (x, y) in mm; a place in the picture is (row, col). Both ways are exact to a small
fraction of a pixel, and the way from sheet to picture is the truth that a reader's geometry is held to.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Field = NDArray[np.float32]

_STEP = 16


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """One way of looking at the sheet's plane.

    Attributes
    ----------
    size : rows and columns of the picture
    turn, shift : rotation vector and translation (mm) from sheet to camera
    focal : focal length in pixels
    lens : k1, k2, p1, p2 of the usual polynomial distortion (Brown's model)
    curl : height of the sheet in mm at 100 mm from its ridge, a cylinder; 0 lies flat
    ridge : (x, y) in mm of a place on the ridge, and the angle of the ridge in radians
    """

    size: tuple[int, int]
    turn: Array
    shift: Array
    focal: float
    lens: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    curl: float = 0.0
    ridge: tuple[float, float, float] = (105.0, 148.0, 0.0)

    def height(self, places: Array) -> Array:
        """Return how far the sheet rises towards the camera at places, shape (..., 2) in mm."""
        x, y, angle = self.ridge
        away = (places[..., 0] - x) * np.cos(angle) + (places[..., 1] - y) * np.sin(angle)
        return np.asarray(-self.curl * (away / 100) ** 2)

    def place(self, places: ArrayLike) -> Array:
        """Return (row, col), shape (n, 2), of places on the sheet, shape (n, 2), in mm."""
        flat = np.asarray(places, dtype=np.float64).reshape(-1, 2)
        points = np.concatenate([flat, self.height(flat)[:, None]], axis=1)
        image, _ = cv2.projectPoints(points, self.turn, self.shift, self._camera(), np.array(self.lens))
        return np.asarray(image.reshape(-1, 2)[:, ::-1])

    def sheet_at(self, pixels: Array) -> Array:
        """Return places on the sheet, shape (n, 2) in mm, seen at (row, col) pixels, shape (n, 2)."""
        seen = np.ascontiguousarray(pixels[:, None, ::-1], dtype=np.float64)
        criteria = (cv2.TERM_CRITERIA_COUNT + cv2.TERM_CRITERIA_EPS, 30, 1e-9)
        rays = cv2.undistortPoints(seen, self._camera(), np.array(self.lens), None, None, None, criteria)
        rays = np.concatenate([rays.reshape(-1, 2), np.ones((len(pixels), 1))], axis=1)
        back = cv2.Rodrigues(self.turn)[0].T
        eye, way = -back @ self.shift, rays @ back.T
        height = np.zeros(len(pixels))
        for _ in range(12 if self.curl else 1):
            there = eye + way * ((height - eye[2]) / way[:, 2])[:, None]
            height = self.height(there[:, :2])
        return np.asarray(there[:, :2])

    def sheet_map(self) -> Field:
        """Return the place on the sheet, in mm, seen by every pixel, shape (rows, cols, 2)."""
        coarse, shape = self.coarse_map()
        return spread(coarse, shape)

    def coarse_map(self) -> tuple[Field, tuple[int, int]]:
        """Return `sheet_map` at every sixteenth pixel (with a ring around), and the picture's size."""
        rows, cols = (
            (np.arange(-1, -(-n // _STEP) + 1, dtype=np.float64) + 0.5) * _STEP - 0.5 for n in self.size
        )
        grid = np.stack(np.meshgrid(rows, cols, indexing="ij"), axis=-1)
        seen = self.sheet_at(grid.reshape(-1, 2)).reshape(*grid.shape)
        return seen.astype(np.float32), self.size

    def _camera(self) -> Array:
        rows, cols = self.size
        return np.array([[self.focal, 0, (cols - 1) / 2], [0, self.focal, (rows - 1) / 2], [0, 0, 1.0]])


def spread(coarse: Field, size: tuple[int, int]) -> Field:
    """Return a coarse field (of `View.coarse_map`) at every pixel."""
    rows, cols = coarse.shape[:2]
    wide = cv2.resize(coarse, (cols * _STEP, rows * _STEP), interpolation=cv2.INTER_LINEAR)
    return np.asarray(wide[_STEP : _STEP + size[0], _STEP : _STEP + size[1]])


def look_at(
    corners: ArrayLike,
    size: tuple[int, int],
    *,
    tilt: float,
    direction: float = 0.0,
    roll: float = 0.0,
    fill: float = 0.9,
    reach: float = 0.85,
) -> View:
    """Return the view of a hand-held camera that has some places just inside its frame.

    Parameters
    ----------
    corners : array, shape (n, 2), in mm: what must be in the picture
    size : rows and columns
    tilt, direction, roll : degrees off the upright, towards where, and how far the camera is turned
    fill : share of the frame that the places take
    reach : focal length in long sides of the picture
    """
    points = np.asarray(corners, dtype=np.float64)
    a, t, r = np.radians([direction, tilt, roll])
    leaning, _ = cv2.Rodrigues(np.array([np.cos(a), np.sin(a), 0.0]) * t)
    rolled, _ = cv2.Rodrigues(np.array([0.0, 0.0, r]))
    turn = cv2.Rodrigues(rolled @ leaning)[0].reshape(3)
    focal = reach * max(size)
    middle = np.append((points.min(axis=0) + points.max(axis=0)) / 2, 0.0)
    shift = np.array([0.0, 0.0, 1.6 * np.ptp(points, axis=0).max()]) - rolled @ leaning @ middle
    view = View(size, turn, shift, focal)
    for _ in range(25):
        view = _nearer(view, points, middle, fill)
    return view


def _nearer(view: View, points: Array, middle: Array, fill: float) -> View:
    """Move the camera so that the places sit in the middle of the frame and take up their share of it."""
    seen = view.place(points)
    low, high = seen.min(axis=0), seen.max(axis=0)
    off = (low + high) / 2 - (np.array(view.size) - 1) / 2
    ratio = float(((high - low) / (fill * np.array(view.size))).max())
    back = cv2.Rodrigues(view.turn)[0] @ middle
    depth = float(view.shift[2] + back[2])
    moved = view.shift - np.array([off[1], off[0], 0.0]) * depth / view.focal
    moved[2] += depth * (ratio - 1) * 0.9
    return replace(view, shift=moved)
