"""How far apart two colours are: CIE 1976 and CIEDE2000, one pair or all pairs, and the local metric.

The second argument is the reference, as in a fading test; both formulas are symmetric all the same.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Floats = NDArray[np.floating[Any]]

_SIDE = 96  # of a square of pairs worked at once, so that the parts stay in the processor's cache
_OPPOSITE = 1e-4


def delta_e_76(lab: ArrayLike, reference: ArrayLike) -> Array:
    """Return the CIE 1976 difference dE*ab, shape (...), the one ASTM D4303 grades light tests by."""
    return np.linalg.norm(np.asarray(lab, dtype=float) - np.asarray(reference, dtype=float), axis=-1)


def delta_e_2000(lab: ArrayLike, reference: ArrayLike) -> Array:
    """Return the CIEDE2000 difference.

    Parameters
    ----------
    lab, reference : array, shape (..., 3), CIELAB; the two broadcast

    Returns
    -------
    array, shape (...), at least 0; about 1 is just visible side by side

    References
    ----------
    .. [1] G. Sharma, W. Wu, E. N. Dalal, Color Res. Appl. 30(1), 21-30 (2005).
    """
    first, second = np.broadcast_arrays(np.asarray(lab, dtype=float), np.asarray(reference, dtype=float))
    mean_chroma = (np.hypot(first[..., 1], first[..., 2]) + np.hypot(second[..., 1], second[..., 2])) / 2
    stretch = 1 + _grey_stretch(mean_chroma)
    a1, a2 = first[..., 1] * stretch, second[..., 1] * stretch
    C1, C2 = np.hypot(a1, first[..., 2]), np.hypot(a2, second[..., 2])
    h1 = np.degrees(np.arctan2(first[..., 2], a1)) % 360
    h2 = np.degrees(np.arctan2(second[..., 2], a2)) % 360
    grey = C1 * C2 == 0
    turn = h2 - h1
    far = np.abs(turn) > 180
    turn = np.where(grey, 0, turn - np.where(far, np.sign(turn) * 360, 0))
    dH = 2 * np.sqrt(C1 * C2) * np.sin(np.radians(turn) / 2)
    total = h1 + h2
    wrapped = np.where(total < 360, total + 360, total - 360)
    h = np.where(grey, total, np.where(far, wrapped, total) / 2)
    L = (first[..., 0] + second[..., 0]) / 2
    S_L, S_C, S_H, R_T = _weights(L, (C1 + C2) / 2, h)
    dL, dC = (second[..., 0] - first[..., 0]) / S_L, (C2 - C1) / S_C
    dH = dH / S_H
    return np.sqrt(np.maximum(dL**2 + dC**2 + dH**2 + R_T * dC * dH, 0))


def _grey_stretch(chroma: Array) -> Array:
    """Return G: how much a* grows near grey."""
    return 0.5 * (1 - _deepness(chroma))


def _deepness(chroma: Any) -> Any:
    """Return the root of C^7 / (C^7 + 25^7), by products: a general power is ten times slower."""
    square = chroma * chroma
    seventh = square * square * square * chroma
    return np.sqrt(seventh / (seventh + 25.0**7))


def _weights(L: Array, C: Array, h: Array) -> tuple[Array, Array, Array, Array]:
    """Return S_L, S_C, S_H and R_T at a mean lightness, chroma and hue (degrees)."""
    angle = np.radians(h)
    T = (
        1
        - 0.17 * np.cos(angle - np.radians(30))
        + 0.24 * np.cos(2 * angle)
        + 0.32 * np.cos(3 * angle + np.radians(6))
        - 0.20 * np.cos(4 * angle - np.radians(63))
    )
    offset = (L - 50) ** 2
    S_L = 1 + 0.015 * offset / np.sqrt(20 + offset)
    R_T = -2 * _deepness(C) * np.sin(_double_twist(h))
    return S_L, 1 + 0.045 * C, 1 + 0.015 * C * T, R_T


def _double_twist(h: Array) -> Array:
    """Return twice the turn of the blues, radians, at a mean hue in degrees."""
    off = (h - 275) / 25
    return np.radians(60 * np.exp(-off * off))


def metric_2000(lab: ArrayLike) -> Array:
    """Return the factor of the local CIEDE2000 metric.

    Parameters
    ----------
    lab : array, shape (..., 3), CIELAB

    Returns
    -------
    array, shape (..., 3, 3)
        W such that the length of ``W @ step`` is the CIEDE2000 difference of a small step. Holds the
        rotation term of the blues. At an exact grey the hue axis is taken along b*.
    """
    lab = np.asarray(lab, dtype=float)
    stretch = 1 + _grey_stretch(np.hypot(lab[..., 1], lab[..., 2]))
    a, b = lab[..., 1] * stretch, lab[..., 2]
    C = np.hypot(a, b)
    grey = C < 1e-9
    cos = np.where(grey, 1.0, a / np.where(grey, 1.0, C))
    sin = np.where(grey, 0.0, b / np.where(grey, 1.0, C))
    S_L, S_C, S_H, R_T = _weights(lab[..., 0], C, np.degrees(np.arctan2(b, a)) % 360)
    W = np.zeros((*lab.shape[:-1], 3, 3))
    W[..., 0, 0] = 1 / S_L
    rest = np.sqrt(1 - R_T**2 / 4)
    W[..., 1, 1] = (cos * stretch) / S_C - R_T / 2 * (sin * stretch) / S_H
    W[..., 1, 2] = sin / S_C + R_T / 2 * cos / S_H
    W[..., 2, 1] = -rest * (sin * stretch) / S_H
    W[..., 2, 2] = rest * cos / S_H
    return W


def delta_e_2000_pairs(lab: ArrayLike) -> Array:
    """Return the CIEDE2000 difference of every pair.

    Parameters
    ----------
    lab : array, shape (n, 3), CIELAB

    Returns
    -------
    array, shape (n, n), symmetric, zero on the diagonal, within 5e-5 of `delta_e_2000`

    Notes
    -----
    The mean hue is taken as the direction of the bisector, which spares most of the trigonometry; pairs
    of nearly opposite hues, where the bisector is ill defined, go through `delta_e_2000`. The weights, which
    are smooth, are worked out in single precision.
    """
    lab = np.ascontiguousarray(np.asarray(lab, dtype=float))
    n = len(lab)
    chroma = np.hypot(lab[:, 1], lab[:, 2])
    result = np.empty((n, n))
    for top in range(0, n, _SIDE):
        rows = slice(top, top + _SIDE)
        for left in range(top, n, _SIDE):
            columns = slice(left, left + _SIDE)
            block = _block(lab[rows], lab[columns], chroma[rows], chroma[columns])
            result[rows, columns] = block
            if left > top:
                result[columns, rows] = block.T
    np.fill_diagonal(result, 0.0)
    return result


def _block(rows: Array, columns: Array, chroma_rows: Array, chroma_columns: Array) -> Array:
    L1, a1, b1 = (rows[:, None, i] for i in range(3))
    L2, a2, b2 = (columns[None, :, i] for i in range(3))
    stretch = 1 + _grey_stretch((chroma_rows[:, None] + chroma_columns) / 2)
    a1, a2 = a1 * stretch, a2 * stretch
    C1, C2 = np.sqrt(a1 * a1 + b1 * b1), np.sqrt(a2 * a2 + b2 * b2)
    product = C1 * C2
    inner = a1 * a2
    inner += b1 * b2
    length = np.sqrt(2 * product * np.maximum(product + inner, 0))
    ill = length < _OPPOSITE * product + 1e-9
    again = bool(ill.any())
    if again:
        length[ill] = 1.0
    c, s = ((a1 * C2 + a2 * C1) / length).astype(_SINGLE), ((b1 * C2 + b2 * C1) / length).astype(_SINGLE)
    mean_L, mean_C = ((L1 + L2) / 2).astype(_SINGLE), ((C1 + C2) / 2).astype(_SINGLE)
    w_L, w_C, w_H, R_T = _inverse_weights(mean_L, mean_C, c, s)
    total = (L2 - L1) * w_L
    total *= total
    dC = (C2 - C1) * w_C
    dH = np.copysign(np.sqrt(2 * np.maximum(product - inner, 0)), a1 * b2 - a2 * b1)
    dH *= w_H
    total += dC * (dC + R_T * dH)
    total += dH * dH
    block = np.sqrt(np.maximum(total, 0, out=total), out=total)
    if again:
        i, j = np.nonzero(ill)
        block[i, j] = delta_e_2000(rows[i], columns[j])
    return block


def _inverse_weights(L: Floats, C: Floats, c: Floats, s: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Return 1/S_L, 1/S_C, 1/S_H and R_T; ``c`` and ``s`` are cosine and sine of the mean hue."""
    square = c * c
    c2, quadruple = 2 * square - 1, 4 * square
    T = (1 + _T4_COS - _T1_COS * c - _T1_SIN * s) + c2 * (0.24 - 2 * _T4_COS * c2 - (4 * _T4_SIN) * (c * s))
    T += (_T3_COS * c) * (quadruple - 3) - (_T3_SIN * s) * (quadruple - 1)
    offset = (L - 50) ** 2
    S_L = 1 + 0.015 * offset / np.sqrt(20 + offset)
    off = (np.arctan2(-s, -c) + _HALF_TURN_LESS_BLUE) * _PER_25_DEGREES
    R_T = -2 * _deepness(C) * _sine(_SIXTY_DEGREES * np.exp(-off * off))
    return 1 / S_L, 1 / (1 + 0.045 * C), 1 / (1 + 0.015 * C * T), R_T


def _sine(x: Floats) -> Floats:
    """Return the sine of 0-60 degrees in radians by its series, within 4e-8; the library's is slow."""
    square = x * x
    return x * (1 - square * (1 / 6 - square * (1 / 120 - square * (1 / 5040 - square * (1 / 362880)))))


_SINGLE = np.float32
_SIXTY_DEGREES = math.radians(60)
_HALF_TURN_LESS_BLUE = math.radians(180 - 275)
_PER_25_DEGREES = 1 / math.radians(25)
_T1_COS, _T1_SIN = 0.17 * math.cos(math.radians(30)), 0.17 * math.sin(math.radians(30))
_T3_COS, _T3_SIN = 0.32 * math.cos(math.radians(6)), 0.32 * math.sin(math.radians(6))
_T4_COS, _T4_SIN = 0.20 * math.cos(math.radians(63)), 0.20 * math.sin(math.radians(63))
