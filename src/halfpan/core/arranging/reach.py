"""How far a set of paints reaches by mixing any two of them: in every direction of hue and lightness.

The colours come from the mixing model: every pair, several shares, several strengths. In each band of
lightness and sector of hue a pair reaches as far from grey as its strongest colour there, and what is duller
counts as reached with it. That room is counted in cells of equal size; a set reaches a cell when one of its
pairs does, so a paint more never takes anything away.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spaces import lab_to_lch, lch_to_lab

Array = NDArray[np.float64]
Whole = NDArray[np.int64]
Words = NDArray[np.uint64]

BAND = 8.0  # of lightness, in L*
SECTOR = 15.0  # of hue, in degrees
CORE = 16.0  # the chroma that fills the innermost cell; each cell outside it holds as much room
_BANDS, _SECTORS = int(100 // BAND) + 1, round(360 / SECTOR)
_BETWEEN = 3  # steps between two neighbouring shares, and between two strengths
_PAIRS_AT_ONCE = 2000


@dataclass(frozen=True, slots=True, eq=False)
class ReachTable:
    """Cells reached by every pair of paints.

    ``bits``, shape (paints, paints, words), one bit a cell, symmetric; the diagonal is what one paint reaches
    with water alone. ``cells``, shape (cells, 3), CIELAB, are the colours at the cells' outer edges, amid
    their lightness and hue: who gets so far reaches the cell.
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


def reach_table(pairs: ArrayLike, colours: ArrayLike, paints: int) -> ReachTable:
    """Sort the colours of every pair into cells.

    Parameters
    ----------
    pairs : array, shape (n, 2), paint numbers; a pair of a paint with itself is its own washes
    colours : array, shape (n, shares, strengths, 3), CIELAB
    paints
        How many paints there are.

    Notes
    -----
    Between neighbouring shares, and neighbouring strengths, two more colours are put in by straight
    interpolation, so that a step across a cell is not missed; a path bends little between 8:1 and 5:1.

    That duller colours count as reached is right as far as a third paint dulls a mix without turning its
    hue; docs/science/arranging.md says how often it does.
    """
    pairs = np.asarray(pairs, dtype=np.intp)
    colours = np.asarray(colours, dtype=float)
    passed = np.zeros((len(pairs), _BANDS * _SECTORS), dtype=np.int64)
    for block in _blocks(len(pairs)):
        passed[block] = _cells_passed(colours[block])
    most = passed.max(axis=0, initial=0)
    direction = np.repeat(np.arange(len(most)), most)
    inside = np.arange(len(direction)) - np.repeat(np.cumsum(most) - most, most)
    table = np.zeros((paints, paints, (len(direction) + 63) // 64), dtype=np.uint64)
    for block in _blocks(len(pairs)):
        first, second = pairs[block].T
        words = _packed(passed[block][:, direction] > inside)
        table[first, second] = table[second, first] = words
    band, sector = np.divmod(direction, _SECTORS)
    edges = [(band + 0.5) * BAND, CORE * np.sqrt(inside + 1.0), (sector + 0.5) * SECTOR]
    return ReachTable(table, lch_to_lab(np.stack(edges, axis=-1)))


def _blocks(pairs: int) -> list[slice]:
    return [slice(start, start + _PAIRS_AT_ONCE) for start in range(0, pairs, _PAIRS_AT_ONCE)]


def _cells_passed(colours: Array) -> Whole:
    """Return how many cells each pair passes in each direction, shape (pairs, directions)."""
    finer = _finer(_finer(colours, 1), 2).reshape(len(colours), -1, 3)
    lightness, chroma, hue = np.moveaxis(lab_to_lch(finer), -1, 0)
    band = np.clip(lightness // BAND, 0, _BANDS - 1).astype(np.int64)
    sector = np.minimum(hue // SECTOR, _SECTORS - 1).astype(np.int64)
    strongest = np.zeros((len(colours), _BANDS * _SECTORS))
    np.maximum.at(strongest, (np.arange(len(colours))[:, None], band * _SECTORS + sector), chroma)
    return np.floor((strongest / CORE) ** 2).astype(np.int64)


def _finer(colours: Array, axis: int) -> Array:
    """Return the colours with more put in between neighbours along an axis."""
    along = np.moveaxis(colours, axis, 0)
    first, step = along[:-1], np.diff(along, axis=0)
    between = np.stack([first + step * (k / _BETWEEN) for k in range(_BETWEEN)], axis=1)
    return np.moveaxis(np.concatenate([between.reshape(-1, *along.shape[1:]), along[-1:]]), 0, axis)


def _packed(flags: NDArray[np.bool_]) -> Words:
    """Return flags, shape (n, cells), as bits, shape (n, words)."""
    words = (flags.shape[1] + 63) // 64
    padded = np.zeros((len(flags), words * 64), dtype=bool)
    padded[:, : flags.shape[1]] = flags
    return np.packbits(padded, axis=1, bitorder="little").view(np.uint64)


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
