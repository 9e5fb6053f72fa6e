"""What changed between two readings of one paint, and how well the user repeats a swatch.

Wet and dry, one coat and two, before and after lifting, today and last year: always two readings, their
difference, and how far it can be trusted. Colours are CIELAB, D50.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spaces import lab_to_lch
from halfpan.core.paint.reading import Reading

Array = NDArray[np.float64]

REPEATABILITY_FACTOR = 2.8
"""ISO 5725-6: two results differ by less than 2.8 standard deviations in 95 % of cases (1.96 root 2)."""


@dataclass(frozen=True, slots=True)
class Change:
    """From one reading to another: size, its 95 % half width, and which way, in L*, chroma and hue (degrees).

    ``sure`` says that the size is greater than its doubt, so that there is a change at all.
    """

    delta_e: float
    within: float
    lightness: float
    chroma: float
    hue: float

    @property
    def sure(self) -> bool:
        """Whether there is a change at all."""
        return self.delta_e > self.within


def change(before: Reading, after: Reading, *, repeatability: float = 0.0) -> Change:
    """Say what changed between two readings.

    Parameters
    ----------
    before, after : readings, of one photo or of two. Errors that both share are not taken off, so the doubt
        is on the wide side for two zones of one photo.
    repeatability : how far two swatches of one paint by the same hand differ (``repeatability_limit``), where
        the two were painted apart
    """
    first, second = lab_to_lch(np.array(before.lab)), lab_to_lch(np.array(after.lab))
    turn = (second[2] - first[2] + 180.0) % 360.0 - 180.0
    within = np.sqrt(before.within_delta_e00**2 + after.within_delta_e00**2 + repeatability**2)
    return Change(
        delta_e=float(delta_e_2000(np.array(after.lab), np.array(before.lab))),
        within=float(within),
        lightness=float(second[0] - first[0]),
        chroma=float(second[1] - first[1]),
        hue=float(turn),
    )


def share_left(wash: ArrayLike, lifted: ArrayLike, paper: ArrayLike) -> float:
    """How much of a wash stays after lifting, by CIEDE2000 from paper: 1 stains wholly, 0 lifts clean."""
    white = np.asarray(paper, float)
    whole = float(delta_e_2000(np.asarray(wash, float), white))
    if whole < 1e-6:
        return 0.0
    return float(min(1.0, float(delta_e_2000(np.asarray(lifted, float), white)) / whole))


def repeatability_limit(repeats: Sequence[ArrayLike]) -> float:
    """How far two swatches of one paint by the same hand differ, in 95 % of cases.

    Parameters
    ----------
    repeats : for each paint that was painted several times, Lab of each time, shape (n, 3), n of two or more

    Returns
    -------
    2.8 x the standard deviation pooled over the paints, in CIEDE2000; NaN without any repeat

    References
    ----------
    .. [1] ISO 5725-6:1994, repeatability limit.
    """
    squares, freedom = 0.0, 0
    for times in repeats:
        lab = np.asarray(times, dtype=np.float64)
        if len(lab) >= 2:
            squares += float((delta_e_2000(lab, lab.mean(0)) ** 2).sum())
            freedom += len(lab) - 1
    return REPEATABILITY_FACTOR * float(np.sqrt(squares / freedom)) if freedom else float("nan")
