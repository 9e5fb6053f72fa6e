"""How far a set of paints reaches from grey, in slices of lightness; what it misses is marked by shape."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.arranging.reach import SECTOR
from halfpan.core.colour.screen import lab_to_hex
from halfpan.core.colour.spaces import lab_to_lch, lch_to_lab
from halfpan.files.drawing.svg import HAIR, INK, RULE, SECOND, picture, tag, words

SLICES = ((0.0, 32.0), (32.0, 48.0), (48.0, 64.0), (64.0, 80.0), (80.0, 104.0))  # whole bands of the reach
SIDE, GAP, HEAD, FOOT = 220.0, 16.0, 52.0, 58.0
SPAN = 110.0  # chroma from the middle to the edge
_PER_ROW = 3
_STEP = 10.0  # of chroma, from one shade to the next

Array = NDArray[np.float64]


def reach_slices(cells: ArrayLike, reached: ArrayLike, possible: ArrayLike, *, title: str, wider: str) -> str:
    """Return the slices as SVG.

    Parameters
    ----------
    cells : array, shape (n, 3), CIELAB of each cell, at its outer edge
    reached, possible : arrays, shape (n,), bool
        What the set reaches, and the wider set it is held against.
    title, wider
        What the two are called.

    Notes
    -----
    Hue goes round as in CIELAB, a* to the right and b* up, grey in the middle. Each sector is filled as far
    as the set reaches at any lightness of the slice; crosses go on as far as the wider set does.
    """
    lightness, chroma, hue = np.moveaxis(lab_to_lch(cells), -1, 0)
    mine, others = np.asarray(reached, dtype=bool), np.asarray(possible, dtype=bool)
    rows = -(-len(SLICES) // _PER_ROW)
    width = _PER_ROW * SIDE + (_PER_ROW + 1) * GAP
    height = HEAD + rows * (SIDE + GAP + 18) + FOOT
    parts = [words(title, GAP, 26.0, size=16, serif=True)]
    for k, (low, high) in enumerate(SLICES):
        x = GAP + (k % _PER_ROW) * (SIDE + GAP)
        y = HEAD + (k // _PER_ROW) * (SIDE + GAP + 18) + 14
        here = (lightness >= low) & (lightness < high)
        parts += _frame(x, y, f"L* {low:.0f} to {min(high, 100):.0f}")
        for start in np.arange(0.0, 360.0, SECTOR):
            sector = here & (hue >= start) & (hue < start + SECTOR)
            far, farther = (float(chroma[sector & some].max(initial=0.0)) for some in (mine, others))
            middle = (x + SIDE / 2, y + SIDE / 2)
            parts += _filled(middle, start, far, (low + high) / 2) + _crossed(middle, start, far, farther)
    share = mine.sum() / max(int((mine | others).sum()), 1)
    told = f"Reaches {share:.0%} of what {wider} reaches."
    how = f"Filled: reached, the duller inside with a third paint. Cross: only {wider}. Edge: C* {SPAN:.0f}."
    parts.append(words(told, GAP, height - 32, size=11, fill=SECOND))
    parts.append(words(how, GAP, height - 14, size=11, fill=SECOND))
    return picture(width, height, title, f"{told} {how}", parts)


def _frame(x: float, y: float, name: str) -> list[str]:
    middle = SIDE / 2
    return [
        words(name, x, y - 4, size=11, fill=SECOND),
        tag("circle", {"cx": x + middle, "cy": y + middle, "r": middle, "fill": "none", "stroke": RULE}),
        tag("path", {"d": f"M{x:.1f} {y + middle:.1f}h{SIDE:g}M{x + middle:.1f} {y:.1f}v{SIDE:g}",
                     "stroke": HAIR}),
    ]  # fmt: skip


def _filled(middle: tuple[float, float], start: float, far: float, lightness: float) -> list[str]:
    """Return a sector filled from grey outwards, one shade after the other."""
    parts = []
    for inner in np.arange(0.0, far, _STEP):
        outer = min(inner + _STEP, far)
        shade = lch_to_lab((lightness, (inner + outer) / 2, start + SECTOR / 2))
        turns = ((0, inner), (0, outer), (SECTOR, outer), (SECTOR, inner))
        corners = [_at(middle, start + turn, float(chroma)) for turn, chroma in turns]
        a, b, c, d = (f"{u:.1f} {v:.1f}" for u, v in corners)
        radius = f"{_long(float(outer)):.1f}"
        fill = str(lab_to_hex(shade))
        path = f"M{a}L{b}A{radius} {radius} 0 0 0 {c}L{d}Z"
        parts.append(tag("path", {"d": path, "fill": fill, "stroke": fill, "stroke_width": 0.4}))
    return parts


def _crossed(middle: tuple[float, float], start: float, far: float, farther: float) -> list[str]:
    """Return crosses from where the set ends to where the wider one does, but for the crowd in the middle."""
    arm = 2.2
    parts = []
    for chroma in np.arange(max(far, _STEP) + _STEP / 2, farther, _STEP):
        u, v = _at(middle, start + SECTOR / 2, float(chroma))
        parts.append(
            tag("path", {"d": f"M{u - arm:.1f} {v - arm:.1f}l{2 * arm:g} {2 * arm:g}m0 {-2 * arm:g}"
                              f"l{-2 * arm:g} {2 * arm:g}", "stroke": INK, "stroke_width": 0.9})
        )  # fmt: skip
    return parts


def _long(chroma: float) -> float:
    return min(chroma, SPAN) * SIDE / (2 * SPAN)


def _at(middle: tuple[float, float], hue: float, chroma: float) -> tuple[float, float]:
    turn = math.radians(hue)
    return middle[0] + _long(chroma) * math.cos(turn), middle[1] - _long(chroma) * math.sin(turn)
