"""A 24-patch target of published colours, to lie beside the sheet in a picture.

Each patch gets the smoothest spectrum that has its published colour: a stand-in, as only its colour is known.
"""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import least_squares

from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.colour.spectra import xyz_weights

Array = NDArray[np.float64]
Field = NDArray[np.float32]

PATCH_MM, GAP_MM, EDGE_MM = 12.0, 2.0, 4.0
FRAME = 0.035  # reflectance of the target's black frame (from memory)
PATCHES = (6, 4)  # across, down


def smooth_spectrum(lab: ArrayLike) -> Array:
    """Return a smooth reflectance in (0, 1), shape (31,), with a given D50 colour."""
    xyz = lab_to_xyz(lab)
    weights = xyz_weights()

    def miss(z: Array) -> Array:
        reflectance = 0.5 + 0.5 * np.tanh(z)
        return np.concatenate([3000 * (reflectance @ weights - xyz), np.diff(z), 0.02 * z])

    solved = least_squares(miss, np.full(31, np.arctanh(np.clip(2 * xyz[1] - 1, -0.98, 0.98))))
    return np.asarray(0.5 + 0.5 * np.tanh(solved.x))


@cache
def _spectra(labs: bytes) -> Array:
    return np.stack([smooth_spectrum(lab) for lab in np.frombuffer(labs).reshape(-1, 3)])


def target_spectra(labs: ArrayLike) -> Array:
    """Return reflectance, shape (24, 31), of patches of given D50 colours, shape (24, 3)."""
    return _spectra(np.ascontiguousarray(labs, dtype=np.float64).tobytes())


def target_size() -> tuple[float, float]:
    """Return width and height in mm of the whole target with its frame, lying across."""
    across, down = PATCHES
    pitch = PATCH_MM + GAP_MM
    return across * pitch - GAP_MM + 2 * EDGE_MM, down * pitch - GAP_MM + 2 * EDGE_MM


def target_light(labs: ArrayLike, weights: Array, pixels_per_mm: float) -> Field:
    """Return the target lying across as light under some weights, shape (rows, cols, 3)."""
    width, height = target_size()
    light = np.empty((round(height * pixels_per_mm), round(width * pixels_per_mm), 3), dtype=np.float32)
    light[...] = FRAME * weights.sum(axis=0)
    answers = target_spectra(labs) @ weights
    for k, answer in enumerate(answers):
        row, col = divmod(k, PATCHES[0])
        top, left = (round((EDGE_MM + n * (PATCH_MM + GAP_MM)) * pixels_per_mm) for n in (row, col))
        side = round(PATCH_MM * pixels_per_mm)
        light[top : top + side, left : left + side] = answer
    return light


def patch_middles() -> Array:
    """Return the middles of the patches, shape (24, 2), (x, y) in mm from the top left, lying across."""
    across, down = PATCHES
    x, y = np.meshgrid(np.arange(across), np.arange(down))
    steps = np.stack([x.ravel(), y.ravel()], axis=-1).astype(np.float64)
    return EDGE_MM + PATCH_MM / 2 + steps * (PATCH_MM + GAP_MM)


def turned(light: Field) -> Field:
    """Return a target's light turned a quarter clockwise, to lie upright beside an upright sheet."""
    return np.asarray(cv2.rotate(light, cv2.ROTATE_90_CLOCKWISE))
