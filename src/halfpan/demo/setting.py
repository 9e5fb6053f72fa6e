"""Where and how a picture is taken: the stand of the camera, the light in the room, what goes wrong."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.demo.tooth import slow_field
from halfpan.demo.view import spread

Array = NDArray[np.float64]
Field = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Setting:
    """One picture's circumstances. Angles in degrees, lengths in mm, light as shares of the brightest paper.

    ``falloff`` is lost from the bright to the dark end of the sheet, which lies ``falloff_towards``.
    ``shadow`` is a soft-edged shadow of that depth, its edge ``shadow_edge`` wide; ``veil`` a broad glare;
    ``sparkles`` how many wet spots throw the light straight back; ``cover`` the share of the picture's width
    hidden behind a hand or a mug.
    """

    size: tuple[int, int] = (4000, 3000)
    tilt: float = 8.0
    tilt_towards: float = 30.0
    roll: float = 2.0
    fill: float = 0.92
    lens: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    curl: float = 0.0
    curl_angle: float = 0.0
    falloff: float = 0.33
    falloff_towards: float = 40.0
    shadow: float = 0.0
    shadow_edge: float = 18.0
    veil: float = 0.0
    sparkles: int = 0
    cover: float = 0.0
    exposure: float = 0.80


def light_on(
    setting: Setting, coarse: Field, sheet: tuple[float, float], vignette: float, rng: np.random.Generator
) -> Field:
    """Return what share of the full light falls on each pixel, shape (rows, cols, 3).

    Parameters
    ----------
    setting : Setting
    coarse : places on the sheet, of `View.coarse_map`
    sheet : width and height in mm
    vignette : loss of light in the corners of the picture
    rng : chance: where the shadow lies
    """
    middle = np.array(sheet, dtype=np.float32) / 2
    there = np.asarray((coarse - middle) / (np.hypot(*sheet) / 2), dtype=np.float32)
    way = _along(there, setting.falloff_towards)
    light = 1 - np.float32(setting.falloff) * np.clip(0.5 + 0.55 * way + 0.12 * way**2, 0, 1.3)
    light *= _vignetted(coarse.shape[:2], vignette)
    coloured: Field = np.repeat(light[..., None], 3, axis=-1)
    if setting.shadow:
        coloured *= _shadow(setting, coarse, sheet, rng)
    return spread(coloured.astype(np.float32), setting.size)


def _along(there: Field, towards: float) -> Field:
    angle = np.radians(towards)
    return np.asarray(there[..., 0] * np.cos(angle) + there[..., 1] * np.sin(angle), dtype=np.float32)


def _vignetted(shape: tuple[int, int], vignette: float) -> Field:
    y, x = (np.linspace(-1, 1, n, dtype=np.float32) for n in shape)
    radius = (y[:, None] ** 2 + x[None, :] ** 2) / 2
    return np.asarray(1 - np.float32(vignette) * radius * (0.6 + 0.4 * radius), dtype=np.float32)


def _shadow(setting: Setting, coarse: Field, sheet: tuple[float, float], rng: np.random.Generator) -> Field:
    """Return a shadow that reaches in from one side; a little bluer than the light around it."""
    angle = rng.uniform(0, 2 * np.pi)
    out = np.array([np.cos(angle), np.sin(angle)], dtype=np.float32)
    depth = (coarse - np.array(sheet, dtype=np.float32) / 2) @ out
    reach = np.float32(rng.uniform(0.05, 0.30) * np.hypot(*sheet))
    wave = 14 * np.sin(coarse @ np.array([-out[1], out[0]], dtype=np.float32) / 26 + rng.uniform(0, 6))
    inside = np.clip((depth - reach + wave) / np.float32(setting.shadow_edge / 4), -60, 60)
    share = 1 / (1 + np.exp(-inside))
    tint = np.array([1.0, 0.97, 0.92], dtype=np.float32) * np.float32(setting.shadow)
    return np.asarray(1 - share[..., None] * tint, dtype=np.float32)


def stray_light(setting: Setting, rng: np.random.Generator) -> Field | None:
    """Return the light that reaches the camera without touching paint, shape (rows, cols, 1), or none."""
    if not setting.veil and not setting.sparkles:
        return None
    rows, cols = (n // 8 for n in setting.size)
    stray = np.zeros((rows, cols), dtype=np.float32)
    if setting.veil:
        stray += np.float32(setting.veil) * _veil((rows, cols), rng)
    fine = np.zeros((rows * 4, cols * 4), dtype=np.float32)
    for _ in range(setting.sparkles):
        _sparkle(fine, rng)
    whole = [np.asarray(cv2.resize(f, setting.size[::-1]), dtype=np.float32) for f in (stray, fine)]
    return (whole[0] + whole[1])[..., None]


def _veil(shape: tuple[int, int], rng: np.random.Generator) -> Field:
    y, x = (np.linspace(0, 1, n, dtype=np.float32) for n in shape)
    at_y, at_x, wide = rng.uniform(0.15, 0.85), rng.uniform(0.15, 0.85), rng.uniform(0.12, 0.3)
    far = ((y[:, None] - at_y) / wide) ** 2 + ((x[None, :] - at_x) / wide) ** 2
    return np.asarray(np.exp(-far / 2), dtype=np.float32)


def _sparkle(light: Field, rng: np.random.Generator) -> None:
    rows, cols = light.shape
    size = rng.uniform(1.0, 1.0 + cols / 700)
    reach = int(4 * size) + 1
    row, col = rng.integers(reach, rows - reach), rng.integers(reach, cols - reach)
    y, x = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    lean = rng.uniform(0.4, 1.0)
    spot = rng.uniform(0.3, 2.5) * np.exp(-(x**2 + (y / lean) ** 2) / (2 * size**2))
    light[row - reach : row + reach + 1, col - reach : col + reach + 1] += spot.astype(np.float32)


def lamp_share(shape: tuple[int, int], rng: np.random.Generator) -> Field:
    """Return how far the second of two lamps lights each place of a plane, shape (rows, cols, 1), 0.1-0.9."""
    y, x = (np.linspace(-1, 1, n, dtype=np.float32) for n in shape)
    angle = rng.uniform(0, 2 * np.pi)
    way = np.float32(np.sin(angle)) * y[:, None] + np.float32(np.cos(angle)) * x[None, :]
    start = rng.uniform(0.25, 0.75)
    return np.asarray(np.clip(start + rng.uniform(0.05, 0.3) * way, 0.05, 0.95), dtype=np.float32)[..., None]


def cover_up(light: Field, setting: Setting, rng: np.random.Generator) -> None:
    """Lay something over a part of the picture, in place: a hand or a mug reaching in from a side."""
    rows, cols = light.shape[:2]
    wide = setting.cover * cols
    edge = wide * (1 + 0.3 * slow_field((rows, 1), rows / 5, rng)[:, 0])
    hidden = np.arange(cols)[None, :] < edge[:, None]
    if rng.random() < 0.5:
        hidden = hidden[:, ::-1]
    light[hidden] = np.array([0.30, 0.19, 0.14], dtype=np.float32)
