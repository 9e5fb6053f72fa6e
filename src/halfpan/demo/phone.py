"""A phone-like camera and its circumstances: as unfaithful as pocket cameras are in mixed room light.

How odd each part is, is a judgement of ours; the shape of the faults is what such pictures show. Hard ones
are spoilt so far that a reader who only averages each box misses by six CIEDE2000 and more.
"""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import numpy as np
from numpy.typing import NDArray

from halfpan.demo.camera import Camera
from halfpan.demo.lamp import Lamp, developed_weights, lamp_power, screen_matrix, sensor_curves
from halfpan.demo.painter import Paper, paper_of
from halfpan.demo.scanner import bent_tone
from halfpan.demo.setting import Setting

Array = NDArray[np.float64]

SIZES = ((4032, 3024), (3264, 2448))


def phone_camera(
    rng: np.random.Generator, *, sensors: Array | None = None, oddness: float = 0.8, mixed: bool = False
) -> Camera:
    """Return a phone-like camera in a room lit by two lamps; it balances on a guess of their mixture.

    Parameters
    ----------
    rng : chance
    sensors : array, shape (31, 3), sensitivities to use in place of drawn ones
    oddness : how far sensors and tone may stray; 0 for not at all, about 1 for a bad one
    mixed : whether the two lamps always differ
    """
    own = sensor_curves(oddness, rng) if sensors is None else sensors
    lamps = [_lamp(rng), _lamp(rng)]
    while mixed and lamps[0] == lamps[1]:
        lamps[1] = _lamp(rng)
    answers = [(lamp_power(lamp)[:, None] * own).sum(axis=0) for lamp in lamps]
    white = (0.5 * answers[0] + 0.5 * answers[1]) * np.exp(rng.normal(0, 0.03, 3))
    matrix = screen_matrix(own, "window")
    first, second = (developed_weights(own, lamp, matrix, white) for lamp in lamps)
    return Camera(
        weights=first,
        second=second,
        tone=bent_tone(rng, lift=0.0875 * oddness, shoulder=0.1 * oddness),
        vignette=rng.uniform(0.08, 0.25),
        shot=rng.uniform(0.010, 0.022),
        read=0.003,
        blur_px=rng.uniform(0.7, 1.1),
        denoise=rng.uniform(2, 4),
        sharpen=rng.uniform(0.2, 0.7),
        quality=int(rng.integers(75, 96)),
        device=("Saltmarsh", f"Pocket {rng.integers(100, 999)}"),
    )


def _lamp(rng: np.random.Generator) -> Lamp:
    lamps: tuple[Lamp, ...] = get_args(Lamp)
    return lamps[rng.choice(len(lamps), p=[0.3, 0.3, 0.12, 0.28])]


def phone_setting(rng: np.random.Generator, *, hard: bool = False) -> Setting:
    """Return the circumstances of a phone's picture; ``hard`` bends, shades and wets the sheet."""
    plain = Setting(
        size=SIZES[rng.integers(len(SIZES))],
        tilt=rng.uniform(3, 14),
        tilt_towards=rng.uniform(0, 360),
        roll=rng.normal(0, 3),
        fill=rng.uniform(0.85, 0.94),
        lens=(rng.normal(0, 0.02), rng.normal(0, 0.01), rng.normal(0, 3e-4), rng.normal(0, 3e-4)),
        curl=rng.normal(0, 0.6),
        curl_angle=rng.uniform(0, np.pi),
        falloff=rng.uniform(0.10, 0.40),
        falloff_towards=rng.uniform(0, 360),
        exposure=rng.uniform(0.70, 0.95),
    )
    if not hard:
        return plain
    return replace(
        plain,
        lens=(rng.normal(0, 0.08), rng.normal(0, 0.02), rng.normal(0, 1e-3), rng.normal(0, 1e-3)),
        curl=rng.uniform(2.5, 6.5) * rng.choice([-1, 1]),
        shadow=rng.uniform(0.35, 0.7),
        shadow_edge=rng.uniform(10, 30),
        veil=rng.uniform(0.04, 0.16),
        sparkles=int(rng.integers(30, 90)),
    )


def phone_paper(rng: np.random.Generator) -> Paper:
    """Return a paper of Y 0.84 to 0.92 whose print is of 3 to 7 %."""
    lightness = 116 * np.cbrt(rng.uniform(0.84, 0.92)) - 16
    return paper_of((lightness, rng.normal(0, 0.5), rng.normal(1, 1.0)), rng.uniform(0.03, 0.07))
