"""The one radius that stands for a cloud of doubt."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chi2

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.doubt import doubt_of, radius_95
from halfpan.core.measuring.response import correct, usual_prior, without_patches
from halfpan.core.measuring.sample import Sample
from halfpan.core.measuring.veil import Veil


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


def read_with_gaps(share):
    relative = np.array([[0.30, 0.12, 0.10]])
    sample = Sample(
        relative=relative[0],
        spread=np.full(3, 0.01),
        grain=0.02,
        count=900,
        independent=200.0,
        bare=share,
        hot=0.0,
        burnt=0.0,
        high=np.zeros(3),
        low=np.zeros(3),
        middle=(50.0, 50.0),
    )
    response = without_patches(usual_prior(), "paper")
    none = Veil(np.zeros(1), np.zeros(1))
    lab = correct(response, relative)
    doubt = doubt_of(response, lab, relative, samples=[sample], field=None, veil=none)
    return lab[0], float(doubt.radius[0])


def test_gaps_that_are_left_out_of_a_reading_stay_in_its_doubt():
    """An instrument sees them: its mean over the box lies inside the radius."""
    lab, whole = read_with_gaps(0.0)
    _, gappy = read_with_gaps(0.25)
    seen = 0.75 * np.array([0.30, 0.12, 0.10]) + 0.25
    by_instrument = correct(without_patches(usual_prior(), "paper"), seen)
    assert whole < float(delta_e_2000(by_instrument, lab)) < gappy
