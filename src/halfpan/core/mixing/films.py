"""Recipes laid out as arrays.

A row is one recipe; layers run from the ground upwards; each layer has room for as many paints as the
fullest wash, an amount of 0 being an empty place.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.spectra import BANDS
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.observation import Recipe

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Films:
    """Rows of films: ``paints`` and ``amounts`` (n, layers, places), ``grounds`` (n, 31) as read."""

    paints: Ints
    amounts: Floats
    grounds: Floats

    def __len__(self) -> int:
        """Return how many rows there are."""
        return len(self.paints)

    def __getitem__(self, rows: slice | Ints | NDArray[np.bool_]) -> Films:
        """Return some of the rows."""
        return Films(self.paints[rows], self.amounts[rows], self.grounds[rows])


def arrange(recipes: Sequence[Recipe], rows_of: Mapping[str, int], unit: float) -> Films:
    """Lay recipes out as rows; ``rows_of`` numbers the paints, ``unit`` is the amount taken as 1."""
    layers = max((len(r.layers) for r in recipes), default=1)
    places = max((len(wash) for r in recipes for wash in r.layers), default=1)
    paints = np.zeros((len(recipes), layers, places), dtype=np.int64)
    amounts = np.zeros((len(recipes), layers, places))
    for i, recipe in enumerate(recipes):
        for j, wash in enumerate(recipe.layers):
            for k, (paint, amount) in enumerate(wash):
                paints[i, j, k], amounts[i, j, k] = rows_of[paint] if amount > 0 else 0, amount / unit
    grounds = np.array([ground_reflectance(r.ground) for r in recipes]).reshape(len(recipes), len(BANDS))
    return Films(paints, amounts, grounds)
