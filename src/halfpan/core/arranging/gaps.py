"""What a set of paints cannot reach: by hue, by value and by strength of colour, and what would close most.

Hue goes in twelve sectors of 30 degrees from 0, value in three bands. In each the strongest chroma that the
set reaches is held against the strongest that a wider set reaches (the whole collection, or with the wishes).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.arranging.reach import ReachTable
from halfpan.core.colour.spaces import lab_to_lch

Array = NDArray[np.float64]

SECTOR = 30.0
BANDS = (("dark", 0.0, 40.0), ("middle", 40.0, 70.0), ("light", 70.0, 100.1))


@dataclass(frozen=True, slots=True)
class Gap:
    """A sector of hue in a band of value where a set falls short.

    ``reached`` and ``possible`` are the strongest chromas of the set and of the wider one; ``missing`` counts
    the cells of Lab that only the wider one reaches there; ``example`` is the strongest of those.
    """

    from_hue: float
    to_hue: float
    value: str
    reached: float
    possible: float
    missing: int
    example: tuple[float, float, float]


def gaps(
    table: ReachTable, paints: Sequence[int], wider: Sequence[int], *, share: float = 0.75, least: float = 8.0
) -> tuple[Gap, ...]:
    """Return where a set falls short of a wider one, the most missing cells first.

    Parameters
    ----------
    table : ReachTable
    paints, wider
        Numbers of the set and of the wider set it is held against.
    share, least
        A gap is where the set's strongest chroma is under ``share`` of the possible one and at least
        ``least`` below it. Halfpan's own thresholds.
    """
    mine, all_ = table.reached(paints), table.reached([*wider, *paints])
    L, chroma, hue = np.moveaxis(lab_to_lch(table.cells), -1, 0)
    found = []
    for start in np.arange(0.0, 360.0, SECTOR):
        for name, low, high in BANDS:
            here = (hue >= start) & (hue < start + SECTOR) & (low <= L) & (high > L)
            reached, possible = _strongest(chroma, here & mine), _strongest(chroma, here & all_)
            missing = here & all_ & ~mine
            if reached < share * possible and possible - reached >= least and missing.any():
                best = int(np.argmax(np.where(missing, chroma, -1)))
                found.append(
                    Gap(start, start + SECTOR, name, reached, possible, int(missing.sum()), _lab(table, best))
                )
    return tuple(sorted(found, key=lambda gap: -gap.missing))


def closes_most(
    table: ReachTable, paints: Sequence[int], wished: Sequence[int], count: int = 5
) -> tuple[tuple[int, int], ...]:
    """Return the wished paints that would bring most new cells to a set, each with how many."""
    before = table.count(paints)
    gains = [(paint, table.count([*paints, paint]) - before) for paint in wished if paint not in paints]
    return tuple(sorted((gain for gain in gains if gain[1] > 0), key=lambda gain: -gain[1])[:count])


def lost_cells(table: ReachTable, paints: Sequence[int], wider: Sequence[int]) -> Array:
    """Return the colours, shape (n, 3), that a wider set reaches and this one does not."""
    return table.cells[table.reached([*wider, *paints]) & ~table.reached(paints)]


def _strongest(chroma: Array, here: ArrayLike) -> float:
    return float(chroma[np.asarray(here)].max(initial=0.0))


def _lab(table: ReachTable, cell: int) -> tuple[float, float, float]:
    lightness, a, b = (float(v) for v in table.cells[cell])
    return lightness, a, b
