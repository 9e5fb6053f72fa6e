"""The colour fit on devices whose fault is known because it was put there."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.patches import Patches
from halfpan.core.measuring.response import USUAL_PAPER, correct, usual_prior, without_patches
from halfpan.core.measuring.response_fit import fit_response

ANGLES = np.arange(0, 2 * np.pi, np.pi / 4)
LAB = np.array(
    [(L, c * np.cos(h), c * np.sin(h)) for L, c in ((35, 22), (55, 35), (75, 28)) for h in ANGLES]
    + [(L, 0.0, 0.5) for L in (22, 40, 58, 76, 92)]
)
WHITE = xyz_to_linear_srgb(lab_to_xyz(np.array(USUAL_PAPER)))
PLACES = np.stack(np.meshgrid(np.arange(6) * 14.0, np.arange(5) * 14.0), -1).reshape(-1, 2)[: len(LAB)]


def relative(lab):
    return xyz_to_linear_srgb(lab_to_xyz(lab)) / WHITE


def patches():
    count = len(LAB)
    return Patches(relative(LAB), LAB, PLACES, np.zeros(count), doubt=0.3)


def mixed(light):
    return light @ (np.eye(3) * 0.88 + 0.04).T


def fitted(light, tier="known paints", **given):
    return fit_response(patches(), light, usual_prior(), tier=tier, points=PLACES, **given)


def test_a_faithful_device_is_left_alone():
    assert delta_e_2000(correct(without_patches(usual_prior(), "paper"), relative(LAB)), LAB).max() < 0.01


def test_mixed_primaries_are_unmixed():
    response = fitted(mixed(relative(LAB)))
    assert delta_e_2000(correct(response, mixed(relative(LAB))), LAB).max() < 0.5


def test_a_bent_tone_is_straightened_by_a_model_with_tone():
    response = fitted(relative(LAB) ** 1.12)
    assert "tone" in response.model
    assert np.median(delta_e_2000(correct(response, relative(LAB) ** 1.12), LAB)) < 0.4


def test_a_target_in_other_light_under_a_veil_does_not_bend_the_sheets_colours():
    slope = np.exp(0.06 * (PLACES[:, :1] - 35) / 50)
    light = 0.8 * slope * mixed(relative(LAB)) + 0.015
    response = fitted(light, tier="target", light_doubt=0.1)
    assert np.median(delta_e_2000(correct(response, mixed(relative(LAB))), LAB)) < 0.5
    assert response.beside.veil[0] == pytest.approx(0.015 / 0.8, abs=0.006)


def test_the_check_is_what_leaving_each_patch_out_really_gives():
    light = mixed(relative(LAB)) * np.exp(np.random.default_rng(7).normal(0, 0.03, LAB.shape))
    whole = fitted(light)
    misses = []
    for k in range(len(LAB)):
        rest = np.arange(len(LAB)) != k
        part = fit_response(
            patches().keep(rest), light[rest], usual_prior(), tier="known paints", points=PLACES[rest]
        )
        misses.append(float(delta_e_2000(correct(part, light[k]), LAB[k])))
    assert whole.check == pytest.approx(np.mean(misses), rel=0.15)


def test_a_remembered_device_starts_from_its_own_faults():
    device = fitted(mixed(relative(LAB)))
    later = without_patches(usual_prior(device=device), "paper")
    assert np.median(delta_e_2000(correct(later, mixed(relative(LAB))), LAB)) < 0.5
    plain = without_patches(usual_prior(), "paper")
    assert np.trace(later.covariance[:18, :18]) < np.trace(plain.covariance[:18, :18])
