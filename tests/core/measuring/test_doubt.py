"""The one radius that stands for a cloud of doubt."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chi2

from halfpan.core.measuring.doubt import radius_95


def test_an_even_cloud_has_the_chi_square_radius():
    # scipy's chi-square with three degrees of freedom: 7.8147.
    assert radius_95(4.0 * np.eye(3)) == pytest.approx(2.0 * np.sqrt(chi2.ppf(0.95, 3)), rel=1e-9)


def test_a_line_of_doubt_has_the_gaussian_radius():
    assert radius_95(np.diag([1.0, 0.0, 0.0])) == pytest.approx(1.96, abs=0.01)


@pytest.mark.parametrize("spread", [(1, 1, 1), (3, 1, 0.5), (5, 0.2, 0.1), (2, 2, 0.1)])
def test_the_radius_holds_about_95_in_100(spread):
    chance = np.random.default_rng(1)
    cloud = chance.standard_normal((60_000, 3)) * np.array(spread, float)
    radius = float(radius_95(np.diag(np.square(spread).astype(float))))
    assert np.mean(np.linalg.norm(cloud, axis=1) <= radius) == pytest.approx(0.95, abs=0.008)
