"""Light as three numbers: XYZ, CIELAB and its polar form, and Bradford adaptation between whites.

Y is 0-1, L* 0-100, hue in degrees. The white is an argument; its default is D50, 2 degree observer
(ISO 13655). White points are the ASTM E308 5 nm values, the ICC connection space for D50.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

A: Array = np.array([1.09850, 1.0, 0.35585])
C: Array = np.array([0.98074, 1.0, 1.18232])
D50: Array = np.array([0.96422, 1.0, 0.82521])
D65: Array = np.array([0.95047, 1.0, 1.08883])

_EPSILON = 216 / 24389
_KAPPA = 24389 / 27
_BRADFORD: Array = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])


def xyz_to_lab(xyz: ArrayLike, white: ArrayLike = D50) -> Array:
    """Return CIELAB of tristimulus values.

    Parameters
    ----------
    xyz : array, shape (..., 3), Y 0-1
    white : array, shape (3,), the white that becomes L* 100

    Returns
    -------
    array, shape (..., 3), L* 0-100

    References
    ----------
    .. [1] ISO/CIE 11664-4:2019; the exact fractions 216/24389 and 24389/27 join both branches.
    """
    ratio = np.asarray(xyz, dtype=float) / np.asarray(white, dtype=float)
    root = np.where(ratio > _EPSILON, np.cbrt(ratio), (_KAPPA * ratio + 16) / 116)
    x, y, z = root[..., 0], root[..., 1], root[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def lab_to_xyz(lab: ArrayLike, white: ArrayLike = D50) -> Array:
    """Return tristimulus values, shape (..., 3), of CIELAB; the inverse of `xyz_to_lab`."""
    lab = np.asarray(lab, dtype=float)
    y = (lab[..., 0] + 16) / 116
    root = np.stack([y + lab[..., 1] / 500, y, y - lab[..., 2] / 200], axis=-1)
    cube = root**3
    ratio = np.where(cube > _EPSILON, cube, (116 * root - 16) / _KAPPA)
    return ratio * np.asarray(white, dtype=float)


def lab_to_lch(lab: ArrayLike) -> Array:
    """Return lightness, chroma and hue angle (degrees, 0-360; 0 for a grey), shape (..., 3)."""
    lab = np.asarray(lab, dtype=float)
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1])) % 360
    return np.stack([lab[..., 0], np.hypot(lab[..., 1], lab[..., 2]), hue], axis=-1)


def lch_to_lab(lch: ArrayLike) -> Array:
    """Return CIELAB, shape (..., 3), of lightness, chroma and hue angle in degrees."""
    lch = np.asarray(lch, dtype=float)
    hue = np.radians(lch[..., 2])
    return np.stack([lch[..., 0], lch[..., 1] * np.cos(hue), lch[..., 1] * np.sin(hue)], axis=-1)


def adaptation(source: ArrayLike, target: ArrayLike) -> Array:
    """Return the Bradford matrix, shape (3, 3), that takes ``source`` white to ``target`` white.

    References
    ----------
    .. [1] ICC.1:2022 Annex E.
    """
    cones = _BRADFORD @ np.asarray(target, dtype=float) / (_BRADFORD @ np.asarray(source, dtype=float))
    return np.linalg.solve(_BRADFORD, cones[:, None] * _BRADFORD)


def adapt_xyz(xyz: ArrayLike, source: ArrayLike, target: ArrayLike) -> Array:
    """Return tristimulus values, shape (..., 3), as they would look under the ``target`` white."""
    return np.asarray(xyz, dtype=float) @ adaptation(source, target).T
