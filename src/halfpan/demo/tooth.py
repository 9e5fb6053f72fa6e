"""Paper grain and other slow chance: fields of numbers that tile, at so many pixels to the millimetre."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Field = NDArray[np.float32]

TILE_MM = 48.0
FINEST = 8.0  # pixels to the millimetre at which the relief is made; a finer sheet only enlarges it
GRAIN_MM = (0.20, 0.75)  # SD of the two blurs between which a paper's relief lies (from memory: cold pressed)


def _blurred(field: Field, sd_px: float) -> Field:
    """Blur a tile as if it went on for ever on every side."""
    reach = int(4 * sd_px) + 1
    wide = cv2.copyMakeBorder(field, reach, reach, reach, reach, cv2.BORDER_WRAP)
    size = 2 * reach + 1
    blurred = cv2.GaussianBlur(wide, (size, size), max(sd_px, 0.05))
    return np.asarray(blurred[reach:-reach, reach:-reach], dtype=np.float32)


def band_of_noise(
    shape: tuple[int, int], fine_px: float, coarse_px: float, rng: np.random.Generator
) -> Field:
    """Return noise of mean 0 and SD 1 between two sizes (Gaussian SD in pixels); edges meet."""
    noise = rng.standard_normal(shape, dtype=np.float32)
    band = _blurred(noise, fine_px) - _blurred(noise, coarse_px)
    return band / np.float32(band.std())


def slow_field(shape: tuple[int, int], step_px: float, rng: np.random.Generator) -> Field:
    """Return a smooth field of mean near 0 and SD near 1 that changes over ``step_px`` pixels."""
    rows, cols = (int(np.ceil(n / step_px)) + 3 for n in shape)
    knots = rng.standard_normal((rows, cols), dtype=np.float32)
    size = (round(cols * step_px), round(rows * step_px))
    wide = cv2.resize(knots, size, interpolation=cv2.INTER_CUBIC)
    top, left = (int(step_px * (0.5 + rng.random())) for _ in range(2))
    field: Field = np.ascontiguousarray(wide[top : top + shape[0], left : left + shape[1]])
    return field * np.float32(1.4)


@dataclass(frozen=True, slots=True, eq=False)
class Tooth:
    """The relief of one sheet of paper: hills above 0, hollows below, mean 0, SD 1, as a tile."""

    tile: Field

    def over(self, row: int, col: int, rows: int, cols: int) -> Field:
        """Return the relief of a window of the sheet, shape (rows, cols); any place, also off the sheet."""
        high, wide = self.tile.shape
        down = np.arange(row, row + rows) % high
        across = np.arange(col, col + cols) % wide
        if rows and cols and down[0] + rows <= high and across[0] + cols <= wide:
            return self.tile[down[0] : down[0] + rows, across[0] : across[0] + cols]
        return self.tile[down[:, None], across[None, :]]


def make_tooth(pixels_per_mm: float, rng: np.random.Generator) -> Tooth:
    """Return the relief of a sheet: hollows rounder and deeper than the hills are high."""
    side = round(TILE_MM * pixels_per_mm)
    small = round(TILE_MM * min(pixels_per_mm, FINEST))
    fine, coarse = (mm * small / TILE_MM for mm in GRAIN_MM)
    relief = band_of_noise((small, small), fine, coarse, rng)
    relief = np.float32(0.85) * relief - np.float32(0.25) * (relief**2 - 1)
    if small != side:
        wide = cv2.copyMakeBorder(relief, 4, 4, 4, 4, cv2.BORDER_WRAP)
        scale = side / small
        big = cv2.resize(wide, None, fx=scale, fy=scale, interpolation=cv2.INTER_CUBIC)
        edge = round(4 * scale)
        relief = np.asarray(big[edge : edge + side, edge : edge + side], dtype=np.float32)
    return Tooth(np.ascontiguousarray(relief / relief.std()))
