"""From a spectrum to a colour: CIE observers and illuminants, 380-780 nm by 5 nm.

Reflectance is 0-1 on 31 bands, 400-700 nm by 10 nm. A coarser spectrum is brought to the 5 nm table by
cubic Lagrange interpolation and held constant beyond its ends (CIE 15, 7.2.2-7.2.3).
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.spaces import D50, xyz_to_lab

Array = NDArray[np.float64]
Illuminant = Literal["A", "C", "D50", "D65"]
Observer = Literal[2, 10]

BANDS: Array = np.arange(400.0, 701.0, 10.0)


@cache
def _table(name: str) -> Array:
    text = files("halfpan.data").joinpath(name).read_text(encoding="utf-8")
    rows = [line.split(",") for line in text.splitlines() if line and not line.startswith("#")]
    return np.array(rows[1:], dtype=float)


@cache
def _weighted_observer(illuminant: Illuminant, observer: Observer) -> Array:
    """Return illuminant times observer, shape (81, 3), scaled so that a perfect white has Y = 1."""
    power = _table("cie_illuminants.csv")[:, ("A", "C", "D50", "D65").index(illuminant) + 1]
    first = 1 if observer == 2 else 4
    weighted = power[:, None] * _table("cie_observers.csv")[:, first : first + 3]
    return weighted / weighted[:, 1].sum()


def _interpolation(wavelengths: Array, targets: Array) -> Array:
    """Return the matrix, shape (targets, wavelengths), of piecewise cubic Lagrange interpolation."""
    n = len(wavelengths)
    matrix = np.zeros((len(targets), n))
    order = min(4, n)
    for row, target in zip(matrix, np.clip(targets, wavelengths[0], wavelengths[-1]), strict=True):
        start = int(np.clip(np.searchsorted(wavelengths, target) - order // 2, 0, n - order))
        knots = wavelengths[start : start + order]
        for i, knot in enumerate(knots):
            others = np.delete(knots, i)
            row[start + i] = np.prod((target - others) / (knot - others))
    return matrix


def white_of(illuminant: Illuminant, observer: Observer = 2) -> Array:
    """Return the white point, shape (3,), Y = 1, that the 5 nm tables give a perfect diffuser."""
    return _weighted_observer(illuminant, observer).sum(axis=0)


def spectrum_to_xyz(
    values: ArrayLike,
    wavelengths: ArrayLike,
    illuminant: Illuminant = "D50",
    observer: Observer = 2,
) -> Array:
    """Return tristimulus values of a reflectance spectrum.

    Parameters
    ----------
    values : array, shape (..., n), reflectance 0-1
    wavelengths : array, shape (n,), nm, rising
    illuminant, observer
        CIE standard illuminant and observer (degrees)

    Returns
    -------
    array, shape (..., 3), Y = 1 for a perfect white

    References
    ----------
    .. [1] CIE 015:2018, Colorimetry, section 7.
    """
    table = _table("cie_observers.csv")[:, 0]
    bridge = _interpolation(np.asarray(wavelengths, dtype=float), table)
    weights = bridge.T @ _weighted_observer(illuminant, observer)
    return np.asarray(values, dtype=float) @ weights


@cache
def xyz_weights() -> Array:
    """Return the weights, shape (31, 3), so that ``reflectance @ weights`` is XYZ under D50, 2 degrees.

    Scaled per channel (by less than 4e-4) so that reflectance 1 gives D50 exactly.
    """
    bridge = _interpolation(BANDS, _table("cie_observers.csv")[:, 0])
    weights = bridge.T @ _weighted_observer("D50", 2)
    scaled: Array = weights * (D50 / weights.sum(axis=0))
    scaled.setflags(write=False)
    return scaled


def reflectance_to_xyz(reflectance: ArrayLike) -> Array:
    """Return XYZ, shape (..., 3), under D50 of reflectance, shape (..., 31), 0-1, 400-700 nm."""
    return np.asarray(reflectance, dtype=float) @ xyz_weights()


def reflectance_to_lab(reflectance: ArrayLike) -> Array:
    """Return D50 CIELAB, shape (..., 3), of reflectance, shape (..., 31), 0-1, 400-700 nm."""
    return xyz_to_lab(reflectance_to_xyz(reflectance))
