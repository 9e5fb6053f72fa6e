"""A paint together with what its painted box showed: what questions of order and likeness are asked of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import Said, Statement, statements, swatch_says

Array = NDArray[np.float64]

STRENGTHS = ("masstone", "mid", "tint")
_UNREAD = (np.nan, np.nan, np.nan)


@dataclass(frozen=True, slots=True)
class Painted:
    """One paint, its swatch if it was painted and read, and what else your tests and eyes showed."""

    paint: Paint
    swatch: Swatch | None = None
    seen: Mapping[Property, Said] = field(default_factory=dict)

    def proof(self) -> dict[Property, Said]:
        """Return what your chart, tests and eyes showed; what the eye saw stands before the chart."""
        shown = swatch_says(self.swatch) if self.swatch else {}
        return {**shown, **self.seen}

    def statements(self) -> tuple[Statement, ...]:
        """Return what label, literature and proof say."""
        return statements(self.paint, self.proof())


def colours(painted: Sequence[Painted]) -> Array:
    """Return the colours at masstone, mid and tint, shape (n, 3, 3); NaN where nothing was read."""
    swatches = [one.swatch for one in painted]
    labs = [
        (one.masstone or _UNREAD, one.mid or _UNREAD, one.tint or _UNREAD) if one else (_UNREAD,) * 3
        for one in swatches
    ]
    return np.array(labs, dtype=float).reshape(len(labs), 3, 3)


def hiding(painted: Sequence[Painted]) -> Array:
    """Return the contrast ratios over the black line, shape (n,); NaN where nothing was read."""
    ratios = [one.swatch.contrast_ratio if one.swatch else None for one in painted]
    return np.array([np.nan if ratio is None else ratio for ratio in ratios], dtype=float)


def apart(labs: Array, others: Array) -> Array:
    """Return how far a paint lies from others: root mean square CIEDE2000 of the strengths both were read at.

    Parameters
    ----------
    labs : array, shape (..., 3, 3), masstone, mid, tint
    others : array, shape (..., 3, 3)

    Returns
    -------
    array, shape (...), infinite where no strength was read for both
    """
    each = delta_e_2000(labs, others)
    read = np.isfinite(each)
    count = read.sum(axis=-1)
    total = np.where(read, each**2, 0.0).sum(axis=-1)
    return np.where(count > 0, np.sqrt(total / np.maximum(count, 1)), np.inf)
