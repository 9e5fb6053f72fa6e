"""A raster of small cells laid over the sheet: put values on it, smooth them, read between them.

Points are ``(x, y)`` in mm.
"""

from __future__ import annotations

import cv2
import numpy as np

from halfpan.core.measuring.photo import Array

CELL_MM = 1.6
LEAST_SPREAD = 0.002
"""Added to a median miss, in ln of light: half a step of 8-bit pixels, so that no cut falls inside one."""


ROW = 1024
"""Places are read in rows of so many: no picture may be wider or higher than 32,767."""


class Raster:
    """A raster of cells: put values on it, blur them, read them back."""

    def __init__(self, points: Array) -> None:
        self.origin = points.min(0)
        extent = np.rint((points.max(0) - self.origin) / CELL_MM).astype(int) + 1
        self.shape = (max(2, int(extent[1])), max(2, int(extent[0])))

    def points(self) -> Array:
        """All points of the raster, row by row, shape (n, 2)."""
        rows, cols = np.mgrid[: self.shape[0], : self.shape[1]]
        return np.stack([cols, rows], -1).reshape(-1, 2) * CELL_MM + self.origin

    def put(self, points: Array, values: Array) -> Array:
        """Lay values on an empty raster at their points."""
        col, row = np.rint((points - self.origin) / CELL_MM).astype(int).T
        raster = np.zeros(self.shape)
        raster[row, col] = values
        return raster

    def read(self, raster: Array, points: Array) -> Array:
        """Read a raster at points that lie on it."""
        col, row = np.rint((points - self.origin) / CELL_MM).astype(int).T
        return np.asarray(raster[row, col])

    def coarser(self, step_mm: float) -> tuple[Array, tuple[int, int]]:
        """Points that span the raster at about another step, shape (n, 2), and their rows and columns."""
        far = (np.array(self.shape[::-1]) - 1) * CELL_MM
        cols, rows = (max(2, int(np.ceil(f / step_mm)) + 1) for f in far)
        x, y = np.linspace(0, far[0], cols), np.linspace(0, far[1], rows)
        return np.stack(np.meshgrid(x, y), -1).reshape(-1, 2) + self.origin, (rows, cols)

    def finer(self, values: Array) -> Array:
        """Bring values at ``coarser`` points to the raster, linearly between them."""
        rows, cols = np.mgrid[: self.shape[0], : self.shape[1]]
        scale = (np.array(values.shape[:2]) - 1) / np.maximum(np.array(self.shape) - 1, 1)
        return between(values, np.stack([cols * scale[1], rows * scale[0]], axis=-1))

    def pooled(self, points: Array, values: Array, sigma_mm: float) -> Array:
        """Mean of the values near each point."""
        total = _blur(self.put(points, values), sigma_mm)
        count = _blur(self.put(points, np.ones(len(points))), sigma_mm)
        return np.asarray(total / np.maximum(count, 1e-6))


def smoothed(
    raster: Raster, points: Array, values: Array, weight: Array, sigma_mm: float
) -> tuple[Array, Array]:
    """Smooth so that it shrinks to nought where there are no cells; bright misses are let go later."""
    smooth = np.zeros(raster.shape)
    current = weight
    for _ in range(4):
        laid = _blur(raster.put(points, current), sigma_mm)
        smooth = _blur(raster.put(points, current * values), sigma_mm) / (laid + 0.03 * laid.max() + 1e-12)
        miss = values - raster.read(smooth, points)
        spread = float(np.median(np.abs(miss[weight > 0]))) + LEAST_SPREAD
        scaled = miss / (4.0 * spread * np.where(miss > 0, 1.5, 1.0))
        current = np.clip(1 - scaled**2, 0, None) ** 2 * (weight > 0)
    return smooth, current


def _blur(raster: Array, sigma_mm: float) -> Array:
    blurred = cv2.GaussianBlur(raster, (0, 0), sigma_mm / CELL_MM, borderType=cv2.BORDER_CONSTANT)
    return np.asarray(blurred, dtype=np.float64)


def between(raster: Array, at: Array) -> Array:
    """Read a raster (rows, cols[, k]) at places (..., 2) (col, row), linearly between its own points.

    Places off the raster are read at its border.
    """
    count = at.size // 2
    places = np.zeros((2, -(-count // ROW), ROW), dtype=np.float32)
    places.reshape(2, -1)[:, :count] = at.reshape(-1, 2).T
    col, row = places
    layers = raster.reshape(*raster.shape[:2], -1).astype(np.float32).transpose(2, 0, 1)
    read = [  # one by one: two at a time OpenCV reads only to a thirty-second of a step
        np.ravel(cv2.remap(layer, col, row, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE))[:count]
        for layer in layers
    ]
    return np.stack(read, axis=-1).astype(np.float64).reshape(*at.shape[:-1], *raster.shape[2:])
