"""What a painter wishes of a tin beside likeness, as costs that seating adds up.

All weights are in the unit of the steps (CIEDE2000) and Halfpan's own: a wish weighs about as much as a
plain step between two families, so that it is kept where it does not tear a run apart.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.arranging.order import Family
from halfpan.core.paint.tin import Seat

Array = NDArray[np.float64]

_SOILS_YELLOW: frozenset[Family] = frozenset({"green", "blue", "violet", "turquoise", "black", "neutral"})


@dataclass(frozen=True, slots=True)
class SeatWishes:
    """Who goes where: strong paints into half pans, the most used into full ones, yellows kept clean.

    ``strong`` and ``most_used`` are paint ids; ``clean_yellows`` keeps yellows from greens, blues, violets
    and blacks, whose washes run over.
    """

    strong: frozenset[str] = frozenset()
    most_used: frozenset[str] = frozenset()
    clean_yellows: bool = False
    weight: float = 20.0


def seat_costs(paints: Sequence[str], seats: Sequence[Seat], wishes: SeatWishes) -> Array:
    """Return what it costs to put each paint in each seat, shape (paints, seats)."""
    full = np.array([seat.size == "full" for seat in seats])
    small = np.array([seat.size in {"half", "quarter"} for seat in seats])
    if not (full.any() and small.any()):
        return np.zeros((len(paints), len(seats)))
    strong = np.array([paint in wishes.strong for paint in paints], dtype=bool)
    used = np.array([paint in wishes.most_used for paint in paints], dtype=bool)
    return wishes.weight * (strong[:, None] & full | used[:, None] & small)


def kept_apart(steps: ArrayLike, families: Sequence[Family], wishes: SeatWishes) -> Array:
    """Return the steps with yellows pushed away from what would soil them, shape (paints, paints)."""
    widened = np.array(steps, dtype=float)
    if wishes.clean_yellows:
        yellow = _are(families, {"yellow"})
        soils = _are(families, _SOILS_YELLOW)
        widened += wishes.weight * (yellow[:, None] & soils[None] | soils[:, None] & yellow[None])
    return widened


def _are(families: Sequence[Family], wanted: Collection[Family]) -> NDArray[np.bool_]:
    return np.array([family in wanted for family in families], dtype=bool)
