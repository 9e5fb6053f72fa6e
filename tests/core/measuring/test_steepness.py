"""How steep lightness runs, told by what a fit leaves of its patches: the tone was bent by so much."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.response import usual_prior, without_patches
from halfpan.core.measuring.steepness import steepness

GREYS = np.array([(L, 0.0, 0.0) for L in (96, 88, 81, 74, 66, 58, 51, 44, 36, 28)])
COLOURS = np.array([(L, 55 * np.cos(h), 55 * np.sin(h)) for L in (35, 55, 75) for h in np.arange(0, 6, 1.0)])
LAB = np.concatenate([GREYS, COLOURS])
LN_Y = np.log(lab_to_xyz(LAB)[:, 1])


def fitted(left):
    return replace(without_patches(usual_prior(), "target"), anchors=LAB, left=np.asarray(left, dtype=float))


def bent(at, size):
    """A bend that a power and a parabola do not follow: its slope is steepest at white."""
    return size * np.sin(2 * np.pi * at / 2.4)


@pytest.mark.parametrize("size", [-0.03, 0.03])
@pytest.mark.parametrize("level", [0.9, 0.6, 0.3])
def test_a_bend_of_the_tone_is_told_at_the_level_of_the_wash(size, level):
    at = np.log(level)
    true = 1 + (bent(at + 0.05, size) - bent(at - 0.05, size)) / 0.1
    times, doubt = steepness(fitted(bent(LN_Y, size)), level)
    assert abs(times - true) < 0.5 * abs(true - 1) + 0.015
    assert abs(times - true) < 2 * doubt + 0.02


def test_what_is_left_of_all_patches_alike_is_no_slope():
    times, _ = steepness(fitted(np.full(len(LAB), 0.04)), 0.8)
    assert times == pytest.approx(1.0, abs=0.01)


def test_colours_say_nothing_of_the_tone():
    left = np.concatenate([np.zeros(len(GREYS)), np.random.default_rng(3).normal(0, 0.1, len(COLOURS))])
    assert steepness(fitted(left), 0.7)[0] == pytest.approx(1.0, abs=1e-9)
    coloured = replace(fitted(left), anchors=COLOURS, left=left[len(GREYS) :])
    assert steepness(coloured, 0.7) == (1.0, 0.0)


def test_without_patches_nothing_is_known_of_it():
    assert steepness(without_patches(usual_prior(), "paper"), 0.5) == (1.0, 0.0)
    dark = replace(fitted(np.zeros(len(LAB))), anchors=np.array([(10.0, 0, 0)] * 4), left=np.zeros(4))
    assert steepness(dark, 0.5) == (1.0, 0.0)
