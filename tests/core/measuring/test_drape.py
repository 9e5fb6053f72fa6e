"""A soft surface draped over scattered values."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import solve

from halfpan.core.measuring.drape import NOISE, _blocks, drape
from halfpan.core.measuring.raster import CELL_MM, Raster


def cells(wide=60, high=40):
    x, y = np.meshgrid(np.arange(wide), np.arange(high))
    return np.stack([x.ravel() + 0.5, y.ravel() + 0.5], axis=-1) * CELL_MM


def test_blocks_hold_the_median_of_what_lies_in_them():
    rng = np.random.default_rng(1)
    points, values = rng.uniform(0, 50, (700, 2)), rng.normal(0, 1, (700, 3))
    middles, levels, counts = _blocks(points, values, 8.0)
    where = np.floor(points / 8.0).astype(int)
    for middle, level, count in zip(middles, levels, counts, strict=True):
        inside = (where == np.floor(middle / 8.0).astype(int)).all(1)
        assert inside.sum() == count
        assert level == pytest.approx(np.median(values[inside], axis=0), abs=1e-12)
        assert middle == pytest.approx(points[inside].mean(0))


def test_a_soft_swell_is_followed_and_one_stain_is_let_go():
    points, grid = cells(), Raster(cells())
    swell = 0.05 * np.exp(-(((points - (48, 32)) / 25) ** 2).sum(1))
    stained = np.where(((points - (20, 20)) ** 2).sum(1) < 5**2, swell + 0.4, swell)
    mean, _ = drape(points, stained[:, None], np.ones(len(points)), grid, length_mm=20.0)
    off = np.abs(grid.read(mean[..., 0], points) - swell)
    away = ((points - (20, 20)) ** 2).sum(1) > 16**2
    assert off[away].max() < 0.004
    assert off.max() < 0.02


def test_doubt_is_that_of_a_gaussian_process():
    """Rasmussen and Williams, chapter 2: 1 - k' (K + noise)^-1 k, worked out here by plain solving."""
    points, grid = cells(), Raster(cells())
    rng = np.random.default_rng(2)
    values = rng.normal(0, 0.01, (len(points), 1))
    weight = (points[:, 0] < 50).astype(float)
    _, doubt = drape(points, values, weight, grid, length_mm=20.0)
    middles, levels, counts = _blocks(points[weight > 0], values[weight > 0], 8.0)
    amplitude = max(float(levels.std()), 0.004)

    def kernel(first, second):
        return np.exp(-0.5 * ((first[:, None] - second[None]) ** 2).sum(-1) / 20.0**2)

    noise = np.diag(NOISE**2 * (1 + 1 / counts)) / amplitude**2
    corners = grid.points()[[0, grid.shape[1] - 1, -1]]
    across = kernel(corners, middles)
    left = 1 - (across * solve(kernel(middles, middles) + noise, across.T).T).sum(1)
    known = amplitude * np.sqrt(left)
    read = grid.read(doubt, corners)
    assert read == pytest.approx(known, rel=0.02)
    assert read[0] < 0.6 * read[1]
