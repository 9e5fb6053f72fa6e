"""Colours as a screen shows them: sRGB and Display P3, and how far outside their range a colour lies.

Encoded values are 0-1 and never clipped silently: a value below 0 or above 1 is outside the screen's
range, and `outside_srgb` says by how much.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spaces import D50, D65, adaptation, lab_to_xyz, xyz_to_lab

Array = NDArray[np.float64]

_SRGB_XY = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
_P3_XY = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))


def _rgb_to_xyz(primaries: tuple[tuple[float, float], ...], white: Array) -> Array:
    """Return the matrix of a screen from the xy of its primaries and its white."""
    columns = np.array([[x / y, 1.0, (1 - x - y) / y] for x, y in primaries]).T
    return columns * np.linalg.solve(columns, white)


_SCREENS: dict[str, Array] = {"sRGB": _rgb_to_xyz(_SRGB_XY, D65), "P3": _rgb_to_xyz(_P3_XY, D65)}


def encode_srgb(linear: ArrayLike) -> Array:
    """Return encoded 0-1 values of linear light (IEC 61966-2-1; Display P3 uses the same curve)."""
    linear = np.asarray(linear, dtype=float)
    size = np.abs(linear)
    curved = 1.055 * np.maximum(size, 0.0031308) ** (1 / 2.4) - 0.055
    return np.sign(linear) * np.where(size <= 0.0031308, 12.92 * size, curved)


def decode_srgb(encoded: ArrayLike) -> Array:
    """Return linear light of encoded 0-1 values; the inverse of `encode_srgb`."""
    encoded = np.asarray(encoded, dtype=float)
    size = np.abs(encoded)
    return np.sign(encoded) * np.where(size <= 0.04045, size / 12.92, ((size + 0.055) / 1.055) ** 2.4)


def xyz_to_linear_srgb(xyz: ArrayLike, white: ArrayLike = D50) -> Array:
    """Return linear sRGB, shape (..., 3), white to white by Bradford."""
    return np.asarray(xyz, dtype=float) @ _matrices("sRGB", white)[1].T


def linear_srgb_to_xyz(rgb: ArrayLike, white: ArrayLike = D50) -> Array:
    """Return tristimulus values, shape (..., 3), of linear sRGB; the inverse of `xyz_to_linear_srgb`."""
    return np.asarray(rgb, dtype=float) @ _matrices("sRGB", white)[0].T


def xyz_to_linear_p3(xyz: ArrayLike, white: ArrayLike = D50) -> Array:
    """Return linear Display P3, shape (..., 3), white to white by Bradford."""
    return np.asarray(xyz, dtype=float) @ _matrices("P3", white)[1].T


def linear_p3_to_xyz(rgb: ArrayLike, white: ArrayLike = D50) -> Array:
    """Return tristimulus values, shape (..., 3), of linear Display P3."""
    return np.asarray(rgb, dtype=float) @ _matrices("P3", white)[0].T


def _matrices(screen: str, white: ArrayLike) -> tuple[Array, Array]:
    """Return the matrices from a screen's linear light to tristimulus values under a white, and back."""
    x, y, z = np.asarray(white, dtype=float)
    return _known_matrices(screen, (float(x), float(y), float(z)))


@lru_cache(maxsize=32)
def _known_matrices(screen: str, white: tuple[float, float, float]) -> tuple[Array, Array]:
    there = adaptation(D65, white) @ _SCREENS[screen]
    return there, np.asarray(np.linalg.inv(there), dtype=np.float64)


def lab_to_srgb(lab: ArrayLike) -> Array:
    """Return encoded sRGB, shape (..., 3), not clipped, of D50 CIELAB."""
    return encode_srgb(xyz_to_linear_srgb(lab_to_xyz(lab)))


def srgb_to_lab(srgb: ArrayLike) -> Array:
    """Return D50 CIELAB, shape (..., 3), of encoded sRGB 0-1."""
    return xyz_to_lab(linear_srgb_to_xyz(decode_srgb(srgb)))


def lab_to_p3(lab: ArrayLike) -> Array:
    """Return encoded Display P3, shape (..., 3), not clipped, of D50 CIELAB."""
    return encode_srgb(xyz_to_linear_p3(lab_to_xyz(lab)))


def outside_srgb(lab: ArrayLike) -> Array:
    """Return how far a colour lies outside sRGB: CIEDE2000 to the clipped colour, 0 when inside.

    Values within 1e-6 of the border of the range count as inside.
    """
    lab = np.asarray(lab, dtype=float)
    linear = xyz_to_linear_srgb(lab_to_xyz(lab))
    return _outside(lab, linear, xyz_to_lab(linear_srgb_to_xyz(np.clip(linear, 0, 1))))


def outside_p3(lab: ArrayLike) -> Array:
    """Return how far a colour lies outside Display P3: CIEDE2000 to the clipped colour, 0 when inside."""
    lab = np.asarray(lab, dtype=float)
    linear = xyz_to_linear_p3(lab_to_xyz(lab))
    return _outside(lab, linear, xyz_to_lab(linear_p3_to_xyz(np.clip(linear, 0, 1))))


def _outside(lab: Array, linear: Array, clipped: Array) -> Array:
    inside = np.all((linear >= -1e-6) & (linear <= 1 + 1e-6), axis=-1)
    return np.where(inside, 0.0, delta_e_2000(clipped, lab))


def lab_to_hex(lab: ArrayLike) -> str:
    """Return the nearest 8-bit sRGB as ``#rrggbb``, clipped; ask `outside_srgb` whether it had to be."""
    red, green, blue = np.round(np.clip(lab_to_srgb(lab), 0, 1) * 255).astype(int)
    return f"#{red:02x}{green:02x}{blue:02x}"


def hex_to_lab(text: str) -> Array:
    """Return D50 CIELAB, shape (3,), of ``#rrggbb``.

    Raises
    ------
    ValueError
        If the text is not six hexadecimal digits with or without the sign.
    """
    digits = text.strip().removeprefix("#")
    if len(digits) != 6:
        raise ValueError(f"{text!r} is not a colour of the form #rrggbb")
    return srgb_to_lab(np.array(list(bytes.fromhex(digits)), dtype=float) / 255)
