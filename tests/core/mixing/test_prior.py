"""What is believed beforehand: smooth curves, few numbers, uneven washes of the right mean."""

from __future__ import annotations

import numpy as np
import pytest
from invented_paints import PRIOR

from halfpan.core.colour.spectra import BANDS
from halfpan.core.mixing.prior import _covariance, basis_of, centre_of_white, thicknesses


def test_twelve_curves_carry_nearly_all_that_is_believed():
    basis = basis_of(PRIOR)
    whole = _covariance(PRIOR)
    kept = basis.curves @ basis.curves.T
    assert np.trace(kept) / np.trace(whole) > 0.985
    assert np.linalg.eigvalsh(whole).min() > 0
    assert basis.per_paint == 13


def test_curves_are_smooth():
    curves = basis_of(PRIOR).curves
    for half in (curves[: len(BANDS)], curves[len(BANDS) :]):
        assert np.abs(np.diff(half, axis=0)).max() < 0.45


def test_a_white_is_believed_to_scatter_and_not_to_absorb_more():
    basis, centre = basis_of(PRIOR), centre_of_white(PRIOR)
    moved = basis.curves @ centre[:-1]
    assert moved[len(BANDS) :].mean() == pytest.approx(1.5, abs=0.2)
    assert abs(moved[: len(BANDS)].mean()) < 0.2
    assert centre[-1] == 0


@pytest.mark.parametrize("uneven", [0.0, 0.2, 0.4])
def test_an_uneven_wash_has_the_thickness_that_was_asked_for(uneven):
    # Oracle: moments of the log-normal distribution, mean 1 and variance exp(s^2) - 1.
    factors, shares = np.array(thicknesses(uneven)).T
    assert shares.sum() == pytest.approx(1)
    assert factors @ shares == pytest.approx(1, abs=0.002)
    assert (factors**2 @ shares) - 1 == pytest.approx(np.exp(uneven**2) - 1, rel=0.05, abs=1e-9)
