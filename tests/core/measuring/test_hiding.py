"""Contrast ratio and scattering power against worked values of the Kubelka-Munk film."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from halfpan.core.measuring.hiding import contrast_ratio, hiding, scattering_power
from halfpan.core.mixing.film import film_over


# ISO 6504-3's form on the worked films K, S over grounds 0.80 and 0.05 (computed by two independent
# formula paths, six digits).
@pytest.mark.parametrize(
    ("over_black", "over_white", "ratio"),
    [
        (0.350640, 0.435600, 0.80496),
        (0.622920, 0.751013, 0.82944),
        (0.164530, 0.213052, 0.77225),
        (0.067914, 0.520750, 0.13042),
    ],
)
def test_contrast_ratio_of_the_worked_films(over_black, over_white, ratio):
    assert contrast_ratio(over_black, over_white) == pytest.approx(ratio, abs=1e-5)


@pytest.mark.parametrize(
    ("S", "over_white", "over_black"),
    [
        (1.0, 0.435600, 0.350640),
        (2.0, 0.751013, 0.622920),
        (0.5, 0.213052, 0.164530),
        (0.05, 0.520750, 0.067914),
    ],
)
def test_the_two_grounds_give_back_the_scattering_of_the_worked_films(S, over_white, over_black):
    assert scattering_power(over_white, over_black, 0.80, 0.05) == pytest.approx(S, rel=2e-4)


@given(
    st.floats(0.02, 3.0), st.floats(0.02, 3.0), st.floats(0.6, 0.95), st.floats(0.02, 0.08)
)  # fmt: skip
def test_scattering_power_undoes_the_film(K, S, paper, black):
    grounds = np.array([paper, black])
    over = film_over(np.array([K, K]), np.array([S, S]), grounds)
    assume(over[0] - over[1] > 1e-3)
    assert scattering_power(over[0], over[1], paper, black) == pytest.approx(S, rel=1e-3)


def test_a_dark_transparent_paint_is_never_called_opaque():
    found = hiding(0.012, 0.010, 0.89, 0.04, doubt=(0.002, 0.002))
    assert found.contrast_ratio > 0.8
    assert found.word is None


def test_a_pale_transparent_wash_and_a_thick_yellow_get_their_words():
    assert hiding(0.52, 0.060, 0.80, 0.05, doubt=(0.004, 0.003)).word == "transparent"
    assert hiding(0.60, 0.58, 0.89, 0.04, doubt=(0.01, 0.01)).word == "opaque"


def test_the_limits_between_the_words_can_be_moved():
    usual = hiding(0.52, 0.11, 0.80, 0.05, doubt=(0.004, 0.003))
    strict = hiding(0.52, 0.11, 0.80, 0.05, doubt=(0.004, 0.003), limits=(0.01, 0.02, 0.05))
    assert (usual.word, strict.word) == ("semi-transparent", "opaque")


def test_a_wash_that_no_film_could_make_has_no_word():
    found = hiding(0.30, 0.35, 0.85, 0.04, doubt=(0.001, 0.001))
    assert found.scattering is None


@pytest.mark.parametrize("K", [0.1, 0.5, 1.0])
def test_a_wash_that_adds_no_light_to_the_line_is_transparent_and_says_within_what(K):
    """A film without scattering multiplies its ground twice (Kubelka and Munk, S to 0); read a little low."""
    over_paper, over_black = (ground * np.exp(-2 * K) for ground in (0.88, 0.03))
    over_black -= 0.002
    said = hiding(over_paper, over_black, 0.88, 0.03, doubt=(0.005, 0.002))
    assert said.word == "transparent"
    assert said.scattering == 0
    assert 0 < said.scattering_within < 0.08
