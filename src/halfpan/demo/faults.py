"""Pictures that went wrong, one or two faults at a time: what a reader must refuse, or read and doubt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Literal, get_args

import numpy as np

from halfpan.demo.camera import Camera, simple_camera, simple_setting
from halfpan.demo.phone import phone_camera, phone_setting
from halfpan.demo.setting import Setting

Fault = Literal[
    "tilt", "blur", "shadow", "glare", "covered", "small", "coarse", "upside down", "askew", "far"
]
FAULTS: tuple[Fault, ...] = get_args(Fault)


def faulty_picture(
    rng: np.random.Generator, faults: tuple[Fault, ...] | None = None
) -> tuple[tuple[Fault, ...], Camera, Setting]:
    """Return one or two faults drawn by chance (or those given), with a camera and setting that have them.

    Half of the pictures are a simple camera's, half a phone's. "coarse" is a JPEG of quality 40, "small" a
    picture of one to three million pixels, "far" a sheet that fills half of the frame.
    """
    phone = rng.random() < 0.5
    camera = phone_camera(rng) if phone else simple_camera(rng)
    setting = phone_setting(rng) if phone else simple_setting(rng)
    if faults is None:
        count = int(rng.integers(1, 3))
        faults = tuple(FAULTS[k] for k in sorted(rng.choice(len(FAULTS), count, replace=False)))
    for fault in faults:
        camera, setting = _with(fault, camera, setting, rng)
    return faults, camera, setting


def _with(fault: Fault, camera: Camera, setting: Setting, rng: np.random.Generator) -> tuple[Camera, Setting]:
    if fault == "blur":
        return replace(camera, blur_px=rng.uniform(2, 9)), setting
    if fault == "coarse":
        return replace(camera, quality=40), setting
    return camera, _SPOILT[fault](setting, rng)


def _small(setting: Setting, rng: np.random.Generator) -> Setting:
    rows = int(rng.integers(1100, 2000))
    return replace(setting, size=(rows, rows * 3 // 4))


def _shaded(setting: Setting, rng: np.random.Generator) -> Setting:
    return replace(setting, shadow=rng.uniform(0.5, 0.8), shadow_edge=rng.uniform(2, 12))


def _glaring(setting: Setting, rng: np.random.Generator) -> Setting:
    return replace(setting, veil=rng.uniform(0.2, 0.8), sparkles=int(rng.integers(40, 160)))


_SPOILT: dict[Fault, Callable[[Setting, np.random.Generator], Setting]] = {
    "tilt": lambda setting, rng: replace(setting, tilt=rng.uniform(20, 35)),
    "shadow": _shaded,
    "glare": _glaring,
    "covered": lambda setting, rng: replace(setting, cover=rng.uniform(0.08, 0.45)),
    "small": _small,
    "upside down": lambda setting, rng: replace(setting, roll=180 + rng.normal(0, 3)),
    "askew": lambda setting, rng: replace(setting, roll=rng.uniform(-40, 40)),
    "far": lambda setting, rng: replace(setting, fill=rng.uniform(0.4, 0.6)),
}
