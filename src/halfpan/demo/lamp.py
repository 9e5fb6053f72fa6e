"""Light and sensors, band by band: what a lamp sends out, what three sensors make of what comes back.

Sensor curves are Gaussians of our own; lamps are CIE illuminants, or a Gaussian white diode of our own.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.screen import xyz_to_linear_srgb
from halfpan.core.colour.spectra import BANDS, xyz_weights
from halfpan.demo.film import film_at
from halfpan.demo.studio_paints import studio_paints

Array = NDArray[np.float64]
Lamp = Literal["daylight", "window", "tungsten", "diode"]

# centre and SD of each sensor in nm, and the height of the red sensor's second hump near 430 nm
SENSORS = ((596.0, 33.0, 0.06), (536.0, 38.0, 0.0), (456.0, 27.0, 0.0))


@cache
def _published(name: str) -> Array:
    """Return the power of a CIE illuminant, shape (31,)."""
    text = files("halfpan.data").joinpath("cie_illuminants.csv").read_text(encoding="utf-8")
    rows = [line.split(",") for line in text.splitlines() if line and not line.startswith("#")]
    table = np.array(rows[1:], dtype=np.float64)
    return np.asarray(np.interp(BANDS, table[:, 0], table[:, rows[0].index(name)]))


def lamp_power(lamp: Lamp) -> Array:
    """Return the power of a lamp, shape (31,), mean 1."""
    if lamp == "diode":
        chip = np.exp(-(((BANDS - 452) / 11) ** 2) / 2)
        phosphor = np.exp(-(((BANDS - 575) / 62) ** 2) / 2)
        power = 0.85 * chip + phosphor
    else:
        power = _published({"daylight": "D65", "window": "D50", "tungsten": "A"}[lamp])
    return np.asarray(power / power.mean())


def sensor_curves(oddness: float, rng: np.random.Generator) -> Array:
    """Return three sensors' sensitivities, shape (31, 3); ``oddness`` 0-1 moves and widens them by chance."""
    curves = []
    for centre, width, hump in SENSORS:
        c = centre + oddness * rng.normal(0, 5)
        w = width * np.exp(oddness * rng.normal(0, 0.12))
        bell = np.exp(-(((BANDS - c) / w) ** 2) / 2)
        curves.append(bell + hump * np.exp(-(((BANDS - 432) / 18) ** 2) / 2))
    cut = 1 / (1 + np.exp((BANDS - 668) / 9))
    return np.stack(curves, axis=-1) * cut[:, None]


def faithful_weights() -> Array:
    """Return weights, shape (31, 3), that make linear sRGB of reflectance exactly, white to (1, 1, 1)."""
    return xyz_to_linear_srgb(xyz_weights())


def developed_weights(sensors: Array, lamp: Lamp, matrix: Array, white: Array) -> Array:
    """Return weights, shape (31, 3), of sensors under a lamp, balanced and turned to screen light.

    Parameters
    ----------
    sensors : array, shape (31, 3)
    lamp : what shines
    matrix : array, shape (3, 3), balanced sensor values to linear screen light, rows sum to 1
    white : array, shape (3,), the sensors' answer that the camera takes for white
    """
    return (lamp_power(lamp)[:, None] * sensors / white) @ matrix.T


def screen_matrix(sensors: Array, lamp: Lamp) -> Array:
    """Return the matrix, shape (3, 3), that best makes screen light of balanced sensor values under a lamp.

    Least squares over washes of the invented paints, rows held to sum 1 so that white stays white.
    """
    loads = np.array([0.15, 0.5, 1.0])
    washes = np.concatenate([film_at(p.film, loads, np.full(31, 0.9)) for p in studio_paints()[::3]])
    answer = lamp_power(lamp)[:, None] * sensors
    seen = washes @ (answer / answer.sum(axis=0))
    wanted = washes @ faithful_weights()
    heavy = 30.0 * len(seen) ** 0.5
    seen, wanted = np.vstack([seen, heavy * np.ones((1, 3))]), np.vstack([wanted, heavy * np.ones((1, 3))])
    return np.asarray(np.linalg.lstsq(seen, wanted, rcond=None)[0].T)
