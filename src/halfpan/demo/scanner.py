"""The virtual flat-bed scanner: no perspective, nearly even light, the sheet laid a little askew."""

from __future__ import annotations

from dataclasses import dataclass, field

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.screen import encode_srgb
from halfpan.demo.lamp import developed_weights, faithful_weights, lamp_power, screen_matrix, sensor_curves
from halfpan.demo.sheet import PaintedSheet, light_from
from halfpan.demo.shot import Kind, Shot, encode, encoding_table, to_pixels
from halfpan.demo.view import View

Array = NDArray[np.float64]
Field = NDArray[np.float32]

_STRIP = 384
_FAR = 1e7  # mm; from so far a pinhole sees without perspective


def _faithful_tone() -> Field:
    return np.asarray(encode_srgb(np.linspace(0, 1, 4097)), dtype=np.float32)


@dataclass(frozen=True, slots=True, eq=False)
class Scanner:
    """What a scanner does to light.

    ``weights`` (31, 3) turn reflectance into its linear values, ``tone`` is its encoding of them at evenly
    spaced levels, ``white`` the linear value a perfect white would get, ``dim`` the loss of light towards
    one end.
    """

    weights: Array = field(default_factory=faithful_weights)
    tone: Field = field(default_factory=_faithful_tone)
    white: float = 1.0
    dim: float = 0.01
    noise: float = 0.004
    blur_px: float = 0.5
    skew_degrees: float = 0.5
    device: tuple[str, str] = ("Saltmarsh", "Flatbed One")


def odd_scanner(rng: np.random.Generator, *, oddness: float = 1.0) -> Scanner:
    """Return a scanner that does not keep to sRGB: its own sensors under a diode lamp, its own tone.

    ``oddness`` says how far both may stray: 0 for not at all, about 1 for a bad one.
    """
    sensors = sensor_curves(oddness, rng)
    white = (lamp_power("diode")[:, None] * sensors).sum(axis=0) * np.exp(rng.normal(0, 0.01, 3))
    weights = developed_weights(sensors, "diode", screen_matrix(sensors, "diode"), white)
    return Scanner(
        weights=weights,
        tone=bent_tone(rng, lift=0.06 * oddness, shoulder=0.04 * oddness),
        white=float(rng.uniform(0.96, 1.04)),
        dim=0.02,
        noise=0.006,
        blur_px=0.7,
        device=("Saltmarsh", f"Flatbed {rng.integers(100, 999)}"),
    )


def bent_tone(rng: np.random.Generator, lift: float = 0.06, shoulder: float = 0.04) -> Field:
    """Return an encoding that is sRGB's bent by a gamma, an S and a lifted or crushed foot, by chance."""
    level = np.linspace(0, 1, 4097)
    value = encode_srgb(level) ** np.exp(rng.normal(0, lift))
    value = value + rng.normal(0.5, 0.5) * shoulder * np.sin(2 * np.pi * (value - 0.5)) / np.pi
    foot = rng.normal(0, 0.006)
    return np.asarray(np.clip(foot + (1 - foot) * value, 0, 1), dtype=np.float32)


def scan(
    painted: PaintedSheet,
    *,
    rng: np.random.Generator,
    scanner: Scanner | None = None,
    kind: Kind = "jpg",
    quality: int = 92,
    upside_down: bool = False,
) -> Shot:
    """Scan a painted sheet at its own dpi.

    Parameters
    ----------
    painted : PaintedSheet
    rng : chance: how it is laid down, noise
    scanner : one that keeps to sRGB when none is given
    kind, quality : of the file
    upside_down : whether it was laid on the glass the other way round
    """
    scanner = scanner or Scanner()
    matrix = _laid_down(painted, scanner, upside_down, rng)
    rows, cols = painted.ink.shape
    table = encoding_table(scanner.tone)
    pixels = np.empty((rows, cols, 3), dtype=np.uint8)
    for top in range(0, rows, _STRIP):
        count = min(_STRIP, rows - top)
        light = _strip(painted, scanner, matrix, top, count)
        light *= _evenness(scanner, top, count, rows)
        light += (
            np.float32(scanner.noise)
            * np.sqrt(np.maximum(light, 0.02))
            * rng.standard_normal(light.shape, dtype=np.float32)
        )
        pixels[top : top + count] = to_pixels(light, table)
    return Shot(encode(pixels, kind, quality, scanner.device), kind, _view(painted, matrix))


def _laid_down(painted: PaintedSheet, scanner: Scanner, upside_down: bool, rng: np.random.Generator) -> Array:
    """Return the 2 x 3 matrix from picture pixels (x, y) to the sheet's pixels."""
    rows, cols = painted.ink.shape
    turn = rng.normal(0, scanner.skew_degrees / 2) + (180 if upside_down else 0)
    centre = ((cols - 1) / 2, (rows - 1) / 2)
    matrix = np.asarray(cv2.getRotationMatrix2D(centre, turn, 1.0), dtype=np.float64)
    matrix[:, 2] += rng.normal(0, 0.4, 2) * painted.pixels_per_mm
    return matrix


def _strip(painted: PaintedSheet, scanner: Scanner, matrix: Array, top: int, count: int) -> Field:
    rows, cols = painted.ink.shape
    ends = np.array([[x, y, 1.0] for x in (0, cols - 1) for y in (top, top + count - 1)]) @ matrix.T
    first = int(np.clip(np.floor(ends[:, 1].min()) - 4, 0, rows - 1))
    last = int(np.clip(np.ceil(ends[:, 1].max()) + 5, first + 1, rows))
    source = light_from(painted, scanner.weights * scanner.white, (first, 0, last - first, cols))
    local = matrix.copy()
    local[:, 2] += matrix[:, 1] * top - np.array([0, first])
    lid = tuple(float(v) for v in 0.86 * scanner.weights.sum(axis=0) * scanner.white)
    flags = cv2.INTER_LINEAR + cv2.WARP_INVERSE_MAP
    light = cv2.warpAffine(
        source, local, (cols, count), flags=flags, borderMode=cv2.BORDER_CONSTANT, borderValue=(*lid, 0.0)
    )
    if scanner.blur_px > 0.3:
        light = cv2.GaussianBlur(light, (5, 5), scanner.blur_px)
    return np.asarray(light)


def _evenness(scanner: Scanner, top: int, count: int, rows: int) -> Field:
    way = np.arange(top, top + count, dtype=np.float32) / np.float32(rows)
    return np.asarray(1 - np.float32(scanner.dim) * way, dtype=np.float32)[:, None, None]


def _view(painted: PaintedSheet, matrix: Array) -> View:
    """Return the scan as a view from very far, the picture's truth in the same words as a photograph's."""
    ppm = painted.pixels_per_mm
    rows, cols = painted.ink.shape
    onto = np.linalg.inv(np.vstack([matrix, [0, 0, 1]]))
    turn = np.arctan2(onto[1, 0], onto[0, 0])
    centre = np.array([(cols - 1) / 2, (rows - 1) / 2])
    at_origin = onto[:2, :2] @ np.array([-0.5, -0.5]) + onto[:2, 2] - centre
    shift = np.array([*(at_origin / ppm), _FAR])
    return View((rows, cols), np.array([0.0, 0.0, turn]), shift, ppm * _FAR)
