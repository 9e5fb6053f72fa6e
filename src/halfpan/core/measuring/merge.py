"""Several pictures of one page become one reading of it: each box from the picture that saw it best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.paint.reading import Light, Reading, SheetRead, Unread

DISAGREE = "pictures disagree"


def merge_reads(reads: Sequence[SheetRead]) -> SheetRead:
    """Merge what several pictures of one page gave.

    Parameters
    ----------
    reads : at least one, in any order; their boxes need not be the same

    Returns
    -------
    SheetRead
        All of a box's readings and its swatch come from one picture: the one with the fewest flags, then the
        smallest radius. A box is unread only when no picture could read it. Where a second picture differs by
        more than both radii allow, the reading says so. The light is that of the best-founded picture used.
    """
    if len(reads) == 1:
        return reads[0]
    best = {box: reads[k] for box, k in best_views(reads).items()}
    boxes = list(best)
    readings = tuple(_checked(r, reads, best[box]) for box in boxes for r in _of(best[box], box))
    swatches = tuple(s for box in boxes for s in best[box].swatches if s.box == box)
    return SheetRead(_light(list(best.values()) or list(reads)), readings, _unread(reads, boxes), swatches)


def best_views(reads: Sequence[SheetRead]) -> dict[str, int]:
    """Return for each box that any picture could read which of them shows it best; the earlier of equals."""
    boxes = dict.fromkeys(r.box for read in reads for r in read.readings)
    able = {box: [k for k, read in enumerate(reads) if _of(read, box)] for box in boxes}
    return {box: min(able[box], key=lambda k: _merit(reads[k], box)) for box in boxes}


def _of(read: SheetRead, box: str) -> list[Reading]:
    return [r for r in read.readings if r.box == box]


def _merit(read: SheetRead, box: str) -> tuple[int, float]:
    mine = _of(read, box)
    return sum(len(r.flags) for r in mine), float(np.mean([r.within_delta_e00 for r in mine]))


def _checked(reading: Reading, reads: Sequence[SheetRead], own: SheetRead) -> Reading:
    """Mark a reading that another picture contradicts."""
    for read in reads:
        for other in [] if read is own else _of(read, reading.box):
            if other.zone != reading.zone:
                continue
            apart = float(delta_e_2000(np.array(other.lab), np.array(reading.lab)))
            if apart > np.hypot(other.within_delta_e00, reading.within_delta_e00):
                return replace(reading, flags=(*reading.flags, DISAGREE))
    return reading


def _unread(reads: Sequence[SheetRead], boxes: list[str]) -> tuple[Unread, ...]:
    left = {u.box: u for read in reads for u in read.unread if u.box not in boxes}
    return tuple(left.values())


def _light(reads: list[SheetRead]) -> Light:
    order = ("instrument", "target", "known paints", "paper", "none")
    return min((read.light for read in reads), key=lambda light: order.index(light.tier))
