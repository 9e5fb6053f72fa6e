"""Which colours a set of paints reaches by mixing any two of them, as cells of Lab.

The colours come from the mixing model: every pair, several shares, several strengths. A cell is a cube of
Lab; two colours in one cell count as the same. A set reaches a cell when one of its pairs does, so a paint
more never takes anything away.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.difference import delta_e_2000

Array = NDArray[np.float64]
Words = NDArray[np.uint64]

CELL_SIDE = 8.0  # of a cube of Lab: about where two washes side by side stop looking like one


@dataclass(frozen=True, slots=True, eq=False)
class ReachTable:
    """Cells reached by every pair of paints.

    ``bits``, shape (paints, paints, words), one bit a cell, symmetric; the diagonal is what one paint reaches
    with water alone. ``cells``, shape (cells, 3), are the mean colours found in each cell.
    """

    bits: Words
    cells: Array

    @property
    def paints(self) -> int:
        """How many paints the table is about."""
        return len(self.bits)

    def reached(self, paints: Sequence[int]) -> NDArray[np.bool_]:
        """Say of each cell, shape (cells,), whether the set reaches it."""
        words = self.union(paints)
        return np.unpackbits(words.view(np.uint8), bitorder="little")[: len(self.cells)].astype(bool)

    def union(self, paints: Sequence[int]) -> Words:
        """Return the cells a set reaches, as bits, shape (words,)."""
        chosen = np.asarray(paints, dtype=np.intp)
        if not len(chosen):
            return np.zeros(self.bits.shape[2], dtype=np.uint64)
        return np.bitwise_or.reduce(self.bits[np.ix_(chosen, chosen)], axis=(0, 1))

    def count(self, paints: Sequence[int]) -> int:
        """Return how many cells a set reaches."""
        return int(np.bitwise_count(self.union(paints)).sum())


def reach_table(pairs: ArrayLike, colours: ArrayLike, paints: int, *, side: float = CELL_SIDE) -> ReachTable:
    """Sort the colours of every pair into cells.

    Parameters
    ----------
    pairs : array, shape (n, 2), paint numbers; a pair of a paint with itself is its own washes
    colours : array, shape (n, shares, strengths, 3), CIELAB
    paints
        How many paints there are.
    side
        Of a cell, in units of Lab.

    Notes
    -----
    Between neighbouring shares two more colours are put in by straight interpolation, so that a step across
    a cell is not missed; a path bends little between 8:1 and 5:1.
    """
    pairs = np.asarray(pairs, dtype=np.intp)
    colours = np.asarray(colours, dtype=float)
    if colours.shape[1] > 1:
        first, second = colours[:, :-1], colours[:, 1:]
        between = [first + (second - first) * t for t in (0.0, 1 / 3, 2 / 3)]
        colours = np.concatenate([*between, colours[:, -1:]], axis=1)
    flat = colours.reshape(len(pairs), -1, 3)
    key = np.floor(flat / side).astype(np.int64)
    cell_names, which = np.unique(key.reshape(-1, 3), axis=0, return_inverse=True)
    which = which.reshape(flat.shape[:2])
    count = np.bincount(which.ravel(), minlength=len(cell_names))
    cells = np.stack(
        [np.bincount(which.ravel(), flat[..., i].ravel(), len(cell_names)) / count for i in range(3)], axis=-1
    )
    return ReachTable(_bits(pairs, which, paints, len(cell_names)), cells)


def _bits(pairs: NDArray[np.intp], which: NDArray[np.intp], paints: int, cells: int) -> Words:
    words = (cells + 63) // 64
    table = np.zeros((paints, paints, words * 8), dtype=np.uint8)
    flags = np.zeros((len(pairs), words * 64), dtype=bool)
    np.put_along_axis(flags, which, True, axis=1)
    packed = np.packbits(flags, axis=1, bitorder="little")
    table[pairs[:, 0], pairs[:, 1]] = packed
    table[pairs[:, 1], pairs[:, 0]] = packed
    return table.view(np.uint64)


def examples(cells: ArrayLike, count: int = 6) -> NDArray[np.intp]:
    """Return the numbers of a few colours that stand for many: each the farthest from those before it.

    Parameters
    ----------
    cells : array, shape (n, 3), CIELAB
    """
    cells = np.asarray(cells, dtype=float)
    if not len(cells):
        return np.zeros(0, dtype=np.intp)
    picked = [int(np.argmax(np.hypot(cells[:, 1], cells[:, 2])))]
    far = delta_e_2000(cells, cells[picked[0]])
    while len(picked) < min(count, len(cells)):
        picked.append(int(np.argmax(far)))
        far = np.minimum(far, delta_e_2000(cells, cells[picked[-1]]))
    return np.array(picked, dtype=np.intp)
