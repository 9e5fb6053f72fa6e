"""A soft surface draped over scattered values: it follows them slowly and settles to nought far from them.

A Gaussian process with one length, on values gathered in blocks; blocks that stand off are let go.

References
----------
.. [1] C. E. Rasmussen, C. K. I. Williams, "Gaussian Processes for Machine Learning", MIT Press 2006,
   chapter 2: the mean and variance of the process.
"""

from __future__ import annotations

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.raster import Raster

BLOCK_MM = 8.0
NOISE = 0.003
LEAST = 0.004
CUT = 4.0
BRIGHT_SIDE = 1.5


def drape(
    points: Array, values: Array, weight: Array, grid: Raster, *, length_mm: float
) -> tuple[Array, Array]:
    """Drape a soft surface over values.

    Parameters
    ----------
    points : array, shape (n, 2), mm
    values, weight : arrays, shape (n,); values of no weight are not looked at
    grid : the raster to draw it on
    length_mm : how far a value is felt

    Returns
    -------
    mean, doubt : arrays, shape (rows, cols) of the raster: the surface, and its standard deviation
    """
    middles, levels, counts = _blocks(points[weight > 0], values[weight > 0])
    amplitude = max(float(np.std(levels)), LEAST)
    near = amplitude**2 * _kernel(middles, middles, length_mm)
    noise = NOISE**2 * (1 + 1 / counts)
    for _ in range(3):
        factor = cho_factor(near + np.diag(noise), lower=True)
        pull = cho_solve(factor, levels)
        miss = levels - near @ pull
        spread = 1.4826 * float(np.median(np.abs(miss))) + NOISE
        far = np.abs(miss) / (CUT * spread * np.where(miss > 0, BRIGHT_SIDE, 1.0))
        noise = NOISE**2 * (1 + 1 / counts) + np.where(far > 1, (3 * miss) ** 2, 0.0)
    factor = cho_factor(near + np.diag(noise), lower=True)
    pull = cho_solve(factor, levels)
    fine, fine_shape = grid.coarser(length_mm / 5)
    mean = amplitude**2 * _kernel(fine, middles, length_mm) @ pull
    rough, rough_shape = grid.coarser(length_mm / 2)
    across = amplitude**2 * _kernel(rough, middles, length_mm)
    shrink = (across * cho_solve(factor, across.T).T).sum(1)
    doubt = np.sqrt(np.maximum(amplitude**2 - shrink, 0.0))
    return grid.finer(mean.reshape(fine_shape)), grid.finer(doubt.reshape(rough_shape))


def _blocks(points: Array, values: Array) -> tuple[Array, Array, Array]:
    """Medians of values in square blocks; where, what, how many."""
    cell = np.floor(points / BLOCK_MM).astype(np.int64)
    _, which = np.unique(cell[:, 0] * 100_000 + cell[:, 1], return_inverse=True)
    order = np.argsort(which, kind="stable")
    counts = np.bincount(which)
    groups = np.split(order, np.cumsum(counts)[:-1])
    levels = np.array([np.median(values[g]) for g in groups])
    middles = np.stack([np.bincount(which, points[:, k]) / counts for k in (0, 1)], axis=-1)
    return middles, levels, counts.astype(np.float64)


def _kernel(first: Array, second: Array, length_mm: float) -> Array:
    apart = (first[:, :1] - second[:, 0]) ** 2 + (first[:, 1:] - second[:, 1]) ** 2
    return np.exp(-0.5 * apart / length_mm**2)
