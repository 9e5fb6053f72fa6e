"""A hand's corrections to a grid: boxes moved, resized, run together or passed over.

A correction file is JSON: ``{"B2": {"skip": true}, "A1": {"move": [0.1, 0]}, "C1": {"size": [0.8, 0.9]},
"D1": {"merge": "D2"}}``. Moves and sizes are in shares of the box, so that no ruler is needed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from halfpan.core.chart.sheet import Rect
from halfpan.core.measuring.grid import Grid
from halfpan.errors import BadRequest

WORDS = {"skip", "move", "size", "merge"}


def corrected(grid: Grid, corrections: Mapping[str, Mapping[str, Any]]) -> Grid:
    """Return a grid with some boxes put right by hand.

    Parameters
    ----------
    grid : Grid
    corrections : by box: ``skip`` (true: nothing is painted there), ``move`` (right, down, in shares of the
        box), ``size`` (width, height, in shares of what they were, about the middle), ``merge`` (the name of
        another box that belongs to it; that one is then passed over)

    Raises
    ------
    BadRequest
        When a box or a word is unknown, or a number cannot be meant.
    """
    numbers = {grid.name(k): k for k in range(len(grid.rects))}
    rects, present = list(grid.rects), grid.present.copy()
    for name, words in corrections.items():
        if name not in numbers:
            raise BadRequest(f"The corrections speak of box {name}, but the grid has none of that name.")
        unknown = set(words) - WORDS
        if unknown:
            raise BadRequest(f"Box {name} has the unknown correction {min(unknown)!r}; use {sorted(WORDS)}.")
        k = numbers[name]
        if words.get("skip"):
            present.flat[k] = False
        if "merge" in words:
            other = numbers.get(str(words["merge"]))
            if other is None or other == k:
                raise BadRequest(f"Box {name} cannot be run together with {words['merge']!r}.")
            rects[k] = _round_both(rects[k], rects[other])
            present.flat[other] = False
        rects[k] = _moved(rects[k], _pair(words.get("move", (0, 0)), name, 2.0))
        rects[k] = _sized(rects[k], _pair(words.get("size", (1, 1)), name, 3.0, least=0.1))
    return replace(grid, rects=tuple(rects), present=present)


def _pair(values: Any, name: str, most: float, least: float | None = None) -> tuple[float, float]:
    """Return two numbers within bounds, or refuse."""
    low = -most if least is None else least
    try:
        first, second = (float(v) for v in values)
    except (TypeError, ValueError) as trouble:
        raise BadRequest(f"The correction of box {name} needs two numbers, as in [0.1, 0].") from trouble
    if not (low <= first <= most and low <= second <= most):
        raise BadRequest(f"The correction of box {name} must lie between {low:g} and {most:g}.")
    return first, second


def _moved(rect: Rect, by: tuple[float, float]) -> Rect:
    return Rect(rect.x + by[0] * rect.width, rect.y + by[1] * rect.height, rect.width, rect.height)


def _sized(rect: Rect, to: tuple[float, float]) -> Rect:
    width, height = rect.width * to[0], rect.height * to[1]
    return Rect(rect.x + (rect.width - width) / 2, rect.y + (rect.height - height) / 2, width, height)


def _round_both(one: Rect, other: Rect) -> Rect:
    left, top = min(one.x, other.x), min(one.y, other.y)
    return Rect(left, top, max(one.right, other.right) - left, max(one.bottom, other.bottom) - top)
