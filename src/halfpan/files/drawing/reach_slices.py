"""What a set of paints reaches, in slices of lightness over a* and b*; what it misses is marked by shape."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.screen import lab_to_hex
from halfpan.files.drawing.svg import HAIR, INK, RULE, SECOND, picture, tag, words

BANDS = ((0.0, 30.0), (30.0, 45.0), (45.0, 60.0), (60.0, 75.0), (75.0, 100.1))
SIDE, GAP, HEAD, FOOT = 220.0, 16.0, 52.0, 40.0
SPAN = 110.0  # a* and b* from minus this to this
_PER_ROW = 3
_CELL = 8.0


def reach_slices(cells: ArrayLike, reached: ArrayLike, possible: ArrayLike, *, title: str, wider: str) -> str:
    """Return the slices as SVG.

    Parameters
    ----------
    cells : array, shape (n, 3), CIELAB of each cell
    reached, possible : arrays, shape (n,), bool
        What the set reaches, and the wider set it is held against.
    title, wider
        What the two are called.

    Notes
    -----
    A filled square is reached, a cross is reached by the wider set only. Colours are those of the cells,
    as a screen can show them.
    """
    lab = np.asarray(cells, dtype=float)
    mine, others = np.asarray(reached, dtype=bool), np.asarray(possible, dtype=bool)
    rows = -(-len(BANDS) // _PER_ROW)
    width = _PER_ROW * SIDE + (_PER_ROW + 1) * GAP
    height = HEAD + rows * (SIDE + GAP + 18) + FOOT
    parts = [words(title, GAP, 26.0, size=16, serif=True)]
    for k, (low, high) in enumerate(BANDS):
        x = GAP + (k % _PER_ROW) * (SIDE + GAP)
        y = HEAD + (k // _PER_ROW) * (SIDE + GAP + 18)
        here = (lab[:, 0] >= low) & (lab[:, 0] < high)
        parts += _slice(x, y + 14, f"L* {low:.0f} to {min(high, 100):.0f}")
        parts += _missing(lab[here & others & ~mine], x, y + 14)
        parts += _reached(lab[here & mine], x, y + 14)
    share = mine.sum() / max(int((mine | others).sum()), 1)
    told = f"Reaches {mine.sum()} cells of Lab, {share:.0%} of what {wider} reaches"
    foot = f"{told}. Square: reached. Cross: only {wider}. a* to the right, b* up, ±{SPAN:.0f}."
    parts.append(words(foot, GAP, height - 14, size=11, fill=SECOND))
    return picture(width, height, title, foot, parts)


def _slice(x: float, y: float, name: str) -> list[str]:
    middle = SIDE / 2
    return [
        words(name, x, y - 4, size=11, fill=SECOND),
        tag("rect", {"x": x, "y": y, "width": SIDE, "height": SIDE, "fill": "none", "stroke": RULE}),
        tag("path", {"d": f"M{x:.1f} {y + middle:.1f}h{SIDE:g}M{x + middle:.1f} {y:.1f}v{SIDE:g}",
                     "stroke": HAIR}),
    ]  # fmt: skip


def _places(lab: NDArray[np.float64], x: float, y: float) -> list[tuple[float, float, Sequence[float]]]:
    """Return each cell of the a*, b* plane once, at its middle, with the mean colour found there."""
    middles = (np.floor(lab[:, 1:] / _CELL) + 0.5) * _CELL
    found = []
    for middle in np.unique(middles, axis=0):
        colour = lab[(middles == middle).all(axis=1)].mean(axis=0)
        a, b = np.clip(middle, -SPAN, SPAN)
        found.append((x + SIDE / 2 + a * SIDE / (2 * SPAN), y + SIDE / 2 - b * SIDE / (2 * SPAN), colour))
    return found


def _reached(lab: NDArray[np.float64], x: float, y: float) -> list[str]:
    side = _CELL * SIDE / (2 * SPAN)
    return [
        tag("rect", {"x": float(u - side / 2), "y": float(v - side / 2), "width": side, "height": side,
                     "fill": str(lab_to_hex(colour))})
        for u, v, colour in _places(lab, x, y)
    ]  # fmt: skip


def _missing(lab: NDArray[np.float64], x: float, y: float) -> list[str]:
    arm = 2.2
    return [
        tag("path", {"d": f"M{u - arm:.1f} {v - arm:.1f}l{2 * arm:g} {2 * arm:g}m0 {-2 * arm:g}"
                          f"l{-2 * arm:g} {2 * arm:g}", "stroke": INK, "stroke_width": 0.9})
        for u, v, _ in _places(lab, x, y)
    ]  # fmt: skip
