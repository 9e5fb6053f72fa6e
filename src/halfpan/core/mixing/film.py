"""A film of paint on a ground: the one two-constant model of the project (Kubelka and Munk).

``absorption`` and ``scattering`` are those of the whole layer (coefficient times thickness, dimensionless,
0 or more), band by band on the last axis. The form used here has no singular cases: a film that only absorbs,
only scatters, hides completely or is not there at all takes the same arithmetic, bar one series when thin.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

THIN = 0.04  # below this the series for u coth u is exact to 1e-14


def film_over(absorption: ArrayLike, scattering: ArrayLike, ground: ArrayLike) -> Floats:
    """Reflectance of a film of paint lying on a ground.

    Parameters
    ----------
    absorption, scattering : array, shape (..., B), of the whole layer, 0 or more
    ground : array, shape (..., B), reflectance under the film, in [0, 1]

    Returns
    -------
    array, shape (..., B), reflectance in [0, 1]

    Notes
    -----
    With ``z = K(K + 2S)``, ``u = sqrt(z)`` and ``h = u coth u`` the usual hyperbolic solution becomes
    ``[S - Rg(K + S - h)] / [K + S - Rg S + h]``.

    References
    ----------
    .. [1] P. Kubelka, J. Opt. Soc. Am. 38, 448 (1948).
    """
    K, S, ground = (np.asarray(a, dtype=np.float64) for a in (absorption, scattering, ground))
    total = K + S
    h = _u_coth_u(K * (K + 2 * S))[0]
    reflected: Floats = (S - ground * (total - h)) / (total - ground * S + h)
    return np.clip(reflected, 0.0, 1.0)


def film_slopes(
    absorption: Floats, scattering: Floats, ground: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Reflectance of a film and its slopes by absorption, scattering and ground; shapes of `film_over`."""
    total = absorption + scattering
    h, slope = _u_coth_u(absorption * (total + scattering))
    h_K, h_S = 2 * slope * total, 2 * slope * absorption
    denominator = total - ground * scattering + h
    R = (scattering - ground * (total - h)) / denominator
    by_K = (-ground * (1 - h_K) - R * (1 + h_K)) / denominator
    by_S = (1 - ground * (1 - h_S) - R * (1 - ground + h_S)) / denominator
    by_ground = (h - total + R * scattering) / denominator
    return R, by_K, by_S, by_ground


def film_alone(absorption: ArrayLike, scattering: ArrayLike) -> tuple[Floats, Floats]:
    """Reflectance over nothing (R0) and transmittance (T) of a film; shapes of `film_over`, R0 + T <= 1."""
    K, S = (np.asarray(a, dtype=np.float64) for a in (absorption, scattering))
    z = K * (K + 2 * S)
    h = _u_coth_u(z)[0]
    u = np.sqrt(z)
    fade = np.exp(-u)
    thin = u < THIN
    u_over_sinh = np.where(
        thin, 1 - z / 6 + 7 * z * z / 360, 2 * u * fade / np.where(thin, 1.0, -np.expm1(-2 * u))
    )
    whole = K + S + h
    return S / whole, u_over_sinh / whole


def stack(upper: tuple[Floats, Floats], lower: tuple[Floats, Floats]) -> tuple[Floats, Floats]:
    """(R0, T) of one film on another, R0 as seen from above; the pair is not the same from below.

    References
    ----------
    .. [1] P. Kubelka, J. Opt. Soc. Am. 44, 330 (1954).
    """
    between = 1 - upper[0] * lower[0]
    return upper[0] + upper[1] ** 2 * lower[0] / between, upper[1] * lower[1] / between


def film_at_infinity(absorption: ArrayLike, scattering: ArrayLike) -> Floats:
    """Reflectance of paint laid on so thickly that no ground shows; 0 where nothing scatters."""
    K, S = (np.asarray(a, dtype=np.float64) for a in (absorption, scattering))
    root = np.sqrt(K * (K + 2 * S))
    whole = K + S + root
    return np.divide(S, whole, out=np.zeros(np.broadcast(K, S).shape), where=whole > 0)


def ratio_of_thick_film(reflectance: ArrayLike) -> Floats:
    """K/S of an opaque film from its reflectance in (0, 1]: ``(1 - R)^2 / 2R``."""
    R = np.asarray(reflectance, dtype=np.float64)
    return np.asarray((1 - R) ** 2 / (2 * R))


def film_from_two_grounds(
    over_first: ArrayLike, over_second: ArrayLike, first: ArrayLike, second: ArrayLike
) -> tuple[Floats, Floats]:
    """(absorption, scattering) of a layer read over two different grounds; ``nan`` where none fits.

    Needs a film that absorbs a little, shows both grounds, and does not hide them.

    References
    ----------
    .. [1] P. Kubelka, J. Opt. Soc. Am. 38, 448 (1948).
    """
    R1, R2, G1, G2 = (np.asarray(a, dtype=np.float64) for a in (over_first, over_second, first, second))
    with np.errstate(divide="ignore", invalid="ignore"):
        a = ((R1 - R2) * (1 + G1 * G2) - (G1 - G2) * (1 + R1 * R2)) / (2 * (R1 * G2 - R2 * G1))
        b = np.sqrt(a * a - 1)
        scattering = (np.arctanh(b / (a - R2)) - np.arctanh(b / (a - G2))) / b
    return (a - 1) * scattering, scattering


def behind_surface(read: ArrayLike, surface: float, inside: float) -> Floats:
    """Reflectance inside the paint from the one read outside (inverse Saunderson correction).

    ``surface`` is the share the surface throws back before the light enters and ``inside`` the share it
    throws back on the way out. Below ``surface`` there is nothing to be known: such values come out as 0.
    """
    R = np.asarray(read, dtype=np.float64)
    return np.clip((R - surface) / (1 - surface - inside * (1 - R)), 0.0, 1.0)


def through_surface(internal: ArrayLike, surface: float, inside: float) -> Floats:
    """Reflectance read outside from the one inside the paint (Saunderson, surface reflection included).

    References
    ----------
    .. [1] J. L. Saunderson, J. Opt. Soc. Am. 32, 727 (1942).
    """
    R = np.asarray(internal, dtype=np.float64)
    return np.asarray(surface + (1 - surface) * (1 - inside) * R / (1 - inside * R))


def _u_coth_u(z: Floats) -> tuple[Floats, Floats]:
    """``u coth u`` and its slope by z, where z = u squared."""
    u = np.sqrt(np.maximum(z, THIN * THIN))
    fade = np.exp(-2 * u)
    rest = 1 - fade
    coth = (1 + fade) / rest
    h, slope = u * coth, (coth / u - 4 * fade / (rest * rest)) / 2
    thin = z < THIN * THIN
    if thin.any():
        h = np.where(thin, 1 + z * (1 / 3 - z * (1 / 45 - z * (2 / 945))), h)
        slope = np.where(thin, 1 / 3 - z * (2 / 45 - z * (2 / 315)), slope)
    return h, slope
