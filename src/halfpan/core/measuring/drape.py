"""A soft surface draped over scattered values: it follows them slowly and settles to nought far from them.

A Gaussian process with one length, on values gathered in blocks; blocks that stand off are let go.

References
----------
.. [1] C. E. Rasmussen, C. K. I. Williams, "Gaussian Processes for Machine Learning", MIT Press 2006,
   chapter 2: the mean and variance of the process.
"""

from __future__ import annotations

import numpy as np
from scipy.linalg import cho_factor, cho_solve, solve_triangular

from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.raster import Raster

NOISE = 0.003
LEAST = 0.004
CUT = 4.0
BRIGHT_SIDE = 1.5


def drape(
    points: Array, values: Array, weight: Array, grid: Raster, *, length_mm: float
) -> tuple[Array, Array]:
    """Drape soft surfaces over values.

    Parameters
    ----------
    points : array, shape (n, 2), mm
    values : array, shape (n, k): k surfaces at once; a block that stands off in one is let go in all
    weight : array, shape (n,); values of no weight are not looked at
    grid : the raster to draw them on
    length_mm : how far a value is felt

    Returns
    -------
    mean, doubt : arrays, shapes (rows, cols, k) and (rows, cols): the surfaces, and the standard deviation
        of the first
    """
    middles, levels, counts = _blocks(points[weight > 0], values[weight > 0], length_mm / 2.5)
    amplitude = np.maximum(levels.std(0), LEAST)
    near = _kernel(middles, middles, length_mm)
    usual = NOISE**2 * (1 + 1 / counts)
    noise, scale = usual, amplitude.max() ** 2
    factor = _factor(near, noise / scale)
    for _ in range(2):
        miss = levels - near @ cho_solve(factor, levels)
        spread = 1.4826 * np.median(np.abs(miss), axis=0) + NOISE
        far = (np.abs(miss) / (CUT * spread * np.where(miss > 0, BRIGHT_SIDE, 1.0))).max(1)
        let_go = usual + np.where(far > 1, (3 * np.abs(miss).max(1)) ** 2, 0.0)
        if np.array_equal(let_go, noise):
            break
        noise, factor = let_go, _factor(near, let_go / scale)
    fine, fine_shape = grid.coarser(length_mm / 5)
    pulled = cho_solve(factor, levels)
    by_col, by_row = _sides(fine.reshape(*fine_shape, 2), middles, length_mm)
    mean = np.stack([(by_row * one) @ by_col.T for one in pulled.T], axis=-1)
    rough, rough_shape = grid.coarser(length_mm / 2)
    by_col, by_row = _sides(rough.reshape(*rough_shape, 2), middles, length_mm)
    across = (by_row[:, None] * by_col[None]).reshape(-1, len(middles))
    shrink = (solve_triangular(factor[0], across.T, lower=True, check_finite=False) ** 2).sum(0)
    doubt = amplitude[0] * np.sqrt(np.maximum(1.0 - shrink, 0.0))
    return grid.finer(mean), grid.finer(doubt.reshape(rough_shape))


def _factor(near: Array, noise: Array) -> tuple[Array, bool]:
    return cho_factor(near + np.diag(noise), lower=True, check_finite=False)


def _blocks(points: Array, values: Array, block_mm: float) -> tuple[Array, Array, Array]:
    """Medians of values in square blocks: where, what, how many."""
    cell = np.floor(points / block_mm).astype(np.int64)
    _, which, counts = np.unique(cell[:, 0] * 100_000 + cell[:, 1], return_inverse=True, return_counts=True)
    starts = np.cumsum(counts) - counts
    lower, upper = starts + (counts - 1) // 2, starts + counts // 2
    levels = []
    for column in values.T:
        ordered = column[np.lexsort((column, which))]
        levels.append((ordered[lower] + ordered[upper]) / 2)
    middles = np.stack([np.bincount(which, points[:, k]) / counts for k in (0, 1)], axis=-1)
    return middles, np.stack(levels, axis=-1), counts.astype(np.float64)


def _kernel(first: Array, second: Array, length_mm: float) -> Array:
    apart = (first[:, :1] - second[:, 0]) ** 2 + (first[:, 1:] - second[:, 1]) ** 2
    return np.exp(-0.5 * apart / length_mm**2)


def _sides(grid: Array, middles: Array, length_mm: float) -> tuple[Array, Array]:
    """Return the two factors of `_kernel` on an upright grid, shape (rows, cols, 2): by column, by row."""
    across, down = grid[0, :, 0], grid[:, 0, 1]
    steep = -0.5 / length_mm**2
    by_col = np.exp(steep * (across[:, None] - middles[:, 0]) ** 2)
    return by_col, np.exp(steep * (down[:, None] - middles[:, 1]) ** 2)
