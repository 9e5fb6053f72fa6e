"""The ends of the longest doubt."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from scipy.stats import norm

from halfpan.core.colour.difference import metric_2000
from halfpan.core.mixing.ends import ends_of_doubt


def test_nineteen_of_twenty_draws_fall_between_the_ends_along_the_longest_axis():
    # Own check by drawing: a normal cloud in CIEDE2000's small-step metric, brought back to CIELAB.
    lab = np.array([[45.0, 20.0, -15.0]])
    root = np.diag([1.0, 4.0, 0.5])
    covariance = (root @ root)[None]
    first, second = ends_of_doubt(lab, covariance)
    W = metric_2000(lab)[0]
    draws = np.random.default_rng(5).standard_normal((40_000, 3)) @ root
    along = draws[:, 1]
    reach = abs((W @ (second - first)[0] / 2)[1])
    assert abs((np.abs(along) <= reach).mean() - 0.95) < 0.005
    assert np.isclose(reach, norm.ppf(0.975) * 4.0)


def test_the_best_guess_lies_half_way_and_no_doubt_has_no_width():
    lab = np.array([[60.0, -10.0, 30.0], [80.0, -4.0, 12.0]])
    first, second = ends_of_doubt(lab, np.stack([np.diag([2.0, 1.0, 0.3]), np.diag([1.0, 0.4, 0.1])]))
    np.testing.assert_allclose((first + second) / 2, lab)
    still, same = ends_of_doubt(lab, np.zeros((2, 3, 3)))
    np.testing.assert_allclose(still, same)


def test_a_ladder_keeps_to_one_side():
    lab = np.linspace([30.0, 20.0, -10.0], [85.0, 5.0, -3.0], 5)
    covariance = np.stack([np.diag([0.2, 3.0, 1.0]) / (k + 1) for k in range(5)])
    first, _ = ends_of_doubt(lab, covariance)
    steps = first - lab
    assert all(a @ b > 0 for a, b in pairwise(steps))
