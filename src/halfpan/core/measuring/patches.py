"""Patches of known colour seen in a photo: a 24-patch target, or boxes whose paint was measured before.

They are what a colour fit leans on. Colours are CIELAB, D50, 2 degree.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.measuring.photo import Array


@dataclass(frozen=True, slots=True, eq=False)
class Patches:
    """Known colours and the light that the photo has of them.

    Attributes
    ----------
    light : array, shape (n, 3), linear sRGB as the photo holds it (``light_at``), middle value of each patch
    lab : array, shape (n, 3), what each patch is known to be
    places : array, shape (n, 2), (row, col) of the middle of each patch
    clipped : array, shape (n,), share of each patch's pixels burnt out or drowned in black, 0-1
    doubt : standard deviation of the known colours themselves, in CIEDE2000
    names : what each patch is called, in the same order (may be empty)
    """

    light: Array
    lab: Array
    places: Array
    clipped: Array
    doubt: float = 0.3
    names: tuple[str, ...] = ()

    def keep(self, chosen: NDArray[np.bool_]) -> Patches:
        """Return only the chosen patches."""
        names = tuple(n for n, c in zip(self.names, chosen, strict=False) if c)
        return Patches(
            self.light[chosen], self.lab[chosen], self.places[chosen], self.clipped[chosen], self.doubt, names
        )
