"""What a model cannot follow: told by patches left out, and by how bent the device is."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.measuring.misfit import bentness, distance, growth, misfit_of, shown

GREYS = np.array([[L, 0.0, 0.0] for L in (20.0, 35.0, 50.0, 65.0, 80.0)])


@given(st.floats(0.05, 5.0), st.integers(1, 40))
def test_numbers_that_are_as_large_as_the_prior_holds_likely_are_bent_by_one(prior, count):
    spread = np.full(count, prior)
    assert bentness(spread, np.zeros(count), spread) == pytest.approx(1.0)


def test_numbers_that_no_patch_settled_leave_the_guess():
    spread = np.array([0.3, 0.5])
    assert bentness(np.zeros(2), spread**2, spread) == pytest.approx(1.0)


def test_settled_numbers_near_nought_are_a_faithful_device():
    spread = np.full(12, 0.2)
    assert bentness(np.zeros(12), 0.1 * spread**2, spread) < 0.05


def test_the_scale_of_a_prior_is_found_again_from_numbers_drawn_from_it():
    # MacKay 1992: the mean square of the fitted numbers over the count of settled ones.
    chance = np.random.default_rng(2)
    prior, noise = np.ones(400), 0.5
    true = 1.7 * chance.standard_normal(400)
    variance = 1 / (1 / prior**2 + 1 / noise**2)
    fitted = variance * (true + noise * chance.standard_normal(400)) / noise**2
    # with the prior's own scale wrong the estimate is one step of an iteration: it must go the right way
    assert 1.7 < bentness(fitted, np.full(400, variance), prior) < 1.7**2 + 0.3


def test_misses_that_grow_with_the_distance_as_assumed_give_back_their_scale():
    away = distance(GREYS[2:3], np.delete(GREYS, 2, axis=0))
    left_out = np.array([3 * 0.4**2 * float(growth(away)[0])])
    lab = np.vstack([GREYS[2:3]])
    among = np.vstack([lab, np.delete(GREYS, 2, axis=0)])
    misses = np.concatenate([left_out, _as_far(among)[1:]])
    assert shown(misses, among) == pytest.approx(0.4**2, rel=1e-6)


def _as_far(lab):
    return np.array(
        [3 * 0.4**2 * float(growth(distance(lab[k], np.delete(lab, k, axis=0)))) for k in range(len(lab))]
    )


def test_the_misfit_doubles_in_variance_at_its_reach_and_is_least_on_a_patch():
    assert growth(np.array([0.0, 10.0])).tolist() == [1.0, 2.0]


@given(st.floats(0.0, 4.0), st.floats(0.0, 9.0), st.integers(0, 200))
def test_a_worse_witness_never_narrows_the_misfit(seen, bent, paints):
    least = misfit_of(seen, bent, paints)
    assert misfit_of(seen + 0.5, bent, paints) >= least
    assert misfit_of(seen, bent + 0.5, paints) >= least


def test_many_known_paints_speak_for_themselves():
    assert misfit_of(0.2**2, 4.0, 100_000) == pytest.approx(0.2, abs=0.01)
    assert misfit_of(0.2**2, 4.0, 0) > 1.0
