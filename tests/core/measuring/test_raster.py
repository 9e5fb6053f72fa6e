"""A raster of cells over the sheet, read between its points."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import RegularGridInterpolator

from halfpan.core.measuring.raster import between


@pytest.mark.parametrize("layers", [(), (1,), (2,), (3,)])
def test_between_its_points_a_raster_is_read_linearly(layers):
    """Outside check: scipy's RegularGridInterpolator. OpenCV's coarse table would miss by a sixtieth."""
    rng = np.random.default_rng(3)
    raster = rng.normal(0, 1, (40, 25, *layers))
    at = rng.uniform(0, 1, (7, 300, 2)) * (24, 39)
    known = RegularGridInterpolator((np.arange(40), np.arange(25)), raster)(at[..., ::-1])
    read = between(raster, at)
    assert read.shape == (7, 300, *layers)
    assert read == pytest.approx(known, abs=1e-4)


def test_off_the_raster_its_border_is_read():
    raster = np.arange(12.0).reshape(3, 4)
    assert between(raster, np.array([[-5.0, 1.0], [9.0, 9.0]])) == pytest.approx([4.0, 11.0])
