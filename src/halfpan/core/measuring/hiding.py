"""How far a paint hides what lies under it, from the same wash over paper and over a black line.

Luminances are Y, 0-1. The words are Halfpan's own and their limits are stated; no standard has any.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

WORDS = ("transparent", "semi-transparent", "semi-opaque", "opaque")
LIMITS = (0.04, 0.12, 0.40)
"""Scattering power S.X at which one word becomes the next. Halfpan's own; change them by argument."""

COMPLETE = 0.95
LIGHT_ENOUGH = 0.08
"""A paint at least this light whose contrast ratio reaches ``COMPLETE`` is opaque, whatever S.X says."""


@dataclass(frozen=True, slots=True)
class Hiding:
    """Contrast ratio and scattering power with their 95 % half widths, and a word or None ("cannot tell")."""

    contrast_ratio: float
    contrast_ratio_within: float
    scattering: float | None
    scattering_within: float | None
    word: str | None


def contrast_ratio(over_black: ArrayLike, over_paper: ArrayLike) -> Array:
    """Y over the black line / Y over paper, the form of ISO 6504-3; 1 hides wholly.

    Notes
    -----
    A dark transparent paint has little light over either ground, so a high ratio alone does not mean
    that it hides: see ``scattering_power``.
    """
    return np.asarray(over_black, float) / np.maximum(np.asarray(over_paper, float), 1e-6)


def scattering_power(
    over_paper: ArrayLike, over_black: ArrayLike, paper: ArrayLike, black: ArrayLike
) -> Array:
    """Scattering power S.X of a film, from its reflectance over two grounds; NaN where no film could do it.

    Parameters
    ----------
    over_paper, over_black : reflectances of the film over the two grounds, 0-1, same shape
    paper, black : reflectances of the grounds themselves

    References
    ----------
    .. [1] P. Kubelka, J. Opt. Soc. Am. 38, 448 (1948): the two-ground solution for a and S.X.
    """
    R1, R2 = np.asarray(over_paper, float), np.asarray(over_black, float)
    Rg1, Rg2 = np.asarray(paper, float), np.asarray(black, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        a = ((R1 - R2) * (1 + Rg1 * Rg2) - (Rg1 - Rg2) * (1 + R1 * R2)) / (2 * (R1 * Rg2 - R2 * Rg1))
        b = np.sqrt(np.maximum(a * a - 1, 1e-12))
        R, Rg = np.where(np.abs(Rg1 - (a - b)) > np.abs(Rg2 - (a - b)), (R1, Rg1), (R2, Rg2))
        power = (_arcoth((a - R) / b) - _arcoth((a - Rg) / b)) / b
    possible = (a >= 1) & (R1 > R2) & np.isfinite(power) & (power >= 0)
    return np.where(possible, power, np.nan)


def _arcoth(x: Array) -> Array:
    """Inverse hyperbolic cotangent, and tangent inside -1 to 1: differences need one branch only."""
    return np.asarray(0.5 * np.log(np.abs((x + 1) / (x - 1))))


def hiding(
    over_paper: float,
    over_black: float,
    paper: float,
    black: float,
    *,
    doubt: tuple[float, float],
    limits: tuple[float, float, float] = LIMITS,
) -> Hiding:
    """Say how far a paint hides.

    Parameters
    ----------
    over_paper, over_black, paper, black : Y of the wash over each ground, and of the grounds
    doubt : standard deviations of the first two
    limits : scattering power at which one word becomes the next
    """
    values = np.array([over_paper, over_black])

    def ratio(v: Array) -> float:
        return float(contrast_ratio(v[1], v[0]))

    def power(v: Array) -> float:
        return float(scattering_power(v[0], v[1], paper, max(black, 1e-4)))

    found = ratio(values)
    found_within = _half_width(ratio, values, doubt)
    scattering: float | None = power(values)
    within: float | None = _half_width(power, values, doubt)
    if not np.isfinite([power(values), within or 0.0]).all():
        scattering, within = _without_body(values, (paper, black), doubt[1])
    word = _word(found, over_paper, scattering, within, limits)
    return Hiding(found, found_within, scattering, within, word)


def _without_body(
    values: Array, grounds: tuple[float, float], doubt: float
) -> tuple[float | None, float | None]:
    """Return no scattering, and how little there may be, for a light wash that leaves the line black.

    A weakly scattering film throws back S.X (1 - exp(-2 K.X)) / (2 K.X) itself, with K.X from what it
    leaves of the paper's light; what is seen over the line bounds it. A dark wash tells nothing this way,
    and where the two grounds contradict each other there is no answer.
    """
    over_paper, over_black = values
    most = max(over_black, 0.0) + 1.96 * doubt
    if over_black > grounds[1] + 1.96 * doubt or not LIGHT_ENOUGH <= over_paper < grounds[0]:
        return None, None
    taken = -np.log(over_paper / grounds[0])
    return 0.0, float(most * taken / (1 - np.exp(-taken)))


def _half_width(function: Callable[[Array], Any], values: Array, doubt: tuple[float, float]) -> float:
    """95 % half width by one step of one standard deviation each way, in each value."""
    total = 0.0
    for move in np.diag(doubt):
        total += (0.5 * (function(values + move) - function(values - move))) ** 2
    return float(1.96 * np.sqrt(total))


def _word(
    ratio: float, light: float, power: float | None, within: float | None, limits: tuple[float, float, float]
) -> str | None:
    if ratio >= COMPLETE and light >= LIGHT_ENOUGH:
        return WORDS[3]
    if power is None or within is None:
        return None
    place = int(np.searchsorted(limits, power, side="right"))
    low = int(np.searchsorted(limits, power - within, side="right"))
    high = int(np.searchsorted(limits, power + within, side="right"))
    return WORDS[place] if high - low <= 1 else None
