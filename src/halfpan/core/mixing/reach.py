"""What two paints can give: the colours from one to the other, strong to thin."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import PLAIN_PAPER, Recipe
from halfpan.core.mixing.predict import FULL_STRENGTH
from halfpan.core.mixing.trust import spread
from halfpan.core.paint.reading import Lab

Floats = NDArray[np.float64]

SHARES = (0.0, 1 / 9, 1 / 5, 1 / 3, 1 / 2, 2 / 3, 4 / 5, 8 / 9, 1.0)  # of the second paint: 8:1 to 1:8
STRENGTHS = (1.0, 1 / 2, 1 / 4, 1 / 8, 1 / 16)  # of a full-strength wash


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """Colours of a pair, CIELAB (strengths, shares, 3), and their 95 % radius (strengths, shares).

    ``shares`` are those of the second paint; ``strengths`` those of a full-strength wash. The first row is
    the path from one paint to the other, all rows are the surface.
    """

    first: str
    second: str
    shares: tuple[float, ...]
    strengths: tuple[float, ...]
    lab: Floats
    within_delta_e00: Floats


def reach_of_pair(
    learnt: Learnt,
    first: str,
    second: str,
    *,
    ground: Lab = PLAIN_PAPER,
    shares: tuple[float, ...] = SHARES,
    strengths: tuple[float, ...] = STRENGTHS,
) -> Reach:
    """Return every colour two paints make, by share of the second and by strength of the wash."""
    learnt.require([first, second])
    full = FULL_STRENGTH * learnt.unit
    recipes = [
        Recipe((((first, full * s * (1 - share)), (second, full * s * share)),), ground)
        for s in strengths
        for share in shares
    ]
    expected = spread(learnt, arrange(recipes, learnt.rows, learnt.unit))
    shape = (len(strengths), len(shares))
    return Reach(
        first,
        second,
        shares,
        strengths,
        expected.lab.reshape(*shape, 3),
        expected.within().reshape(shape),
    )
