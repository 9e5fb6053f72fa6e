"""One box painted by hand: how much paint lies where.

Load 1 is the film's full strength. The hand is uneven, the edge ragged, pigment gathers at the rim and in the
hollows of the paper, and a graded stroke fades to bare paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Rect, Stroke
from halfpan.demo.film import Film
from halfpan.demo.tooth import Tooth, slow_field

Field = NDArray[np.float32]

MARGIN_MM = 2.0
CORNER_MM = 0.9


@dataclass(frozen=True, slots=True)
class Hand:
    """How somebody paints. Lengths in mm; the rest are shares of the load.

    ``strength_sd`` is the spread of the load from box to box (SD of its logarithm), ``pool`` and ``streak``
    the unevenness inside a box over 6 and 2 mm, ``rim`` the ridge that dries at the edge, ``grain`` the SD of
    the logarithm of the load at full granulation, ``dry`` and ``spill`` how often a box is brushed dry or
    dripped.
    """

    strength_sd: float = 0.10
    pool: float = 0.035
    streak: float = 0.02
    rim: float = 0.30
    ragged: float = 0.24
    grain: float = 0.18
    dry: float = 0.0
    spill: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """The paint of one box: where its window starts (row, col) and the load in it."""

    row: int
    col: int
    load: Field


def lay_box(
    strokes: Sequence[Stroke],
    film: Film,
    strengths: Sequence[float],
    *,
    hand: Hand,
    tooth: Tooth,
    pixels_per_mm: float,
    rng: np.random.Generator,
) -> Laid:
    """Return the load that one box carries: strokes side by side in one go, those over one another as coats.

    Parameters
    ----------
    strokes : the strokes of the box that take this film
    film : its grain decides how far it settles
    strengths : load aimed at in each stroke, 1 for full strength
    hand, tooth : who paints, on what paper
    pixels_per_mm : of the raster
    rng : chance
    """
    window = _Window(strokes, pixels_per_mm)
    relief = tooth.over(window.row, window.col, *window.shape)
    load = np.zeros(window.shape, dtype=np.float32)
    for coat in coats(strokes):
        aimed = [strengths[k] for k in coat]
        load += _coat(window, [strokes[k] for k in coat], aimed, film=film, hand=hand, relief=relief, rng=rng)
    return Laid(window.row, window.col, load)


def coats(strokes: Sequence[Stroke]) -> list[list[int]]:
    """Return the numbers of the strokes of each coat: one that lies over an earlier one begins the next."""
    found: list[list[int]] = []
    for k, stroke in enumerate(strokes):
        if not found or any(stroke.rect.inset(0.3).overlaps(strokes[j].rect) for j in found[-1]):
            found.append([])
        found[-1].append(k)
    return found


def _coat(
    window: _Window,
    strokes: Sequence[Stroke],
    strengths: Sequence[float],
    *,
    film: Film,
    hand: Hand,
    relief: Field,
    rng: np.random.Generator,
) -> Field:
    """Return the load of one coat."""
    shape, ppm = window.shape, window.ppm
    wobble = hand.ragged * (slow_field(shape, 3.2 * ppm, rng) + 0.22 * slow_field(shape, 1.1 * ppm, rng))
    inside = window.depth(strokes) + wobble - np.float32(0.05) * relief + np.float32(0.12)
    edge = _smooth(inside / np.float32(0.16))
    if rng.random() < hand.dry:
        edge *= _dry(relief, inside, rng)
    fade, aimed = window.fade(strokes, strengths, 0.035 * slow_field(shape, 4.5 * ppm, rng))
    pooled = 1 + hand.pool * slow_field(shape, 6 * ppm, rng) + hand.streak * slow_field(shape, 2 * ppm, rng)
    rim = 1 + hand.rim * (0.4 + film.flow) * np.exp(-(((inside - 0.25) / 0.28) ** 2))
    core = (inside > 1.2) & (fade > 0.99)
    if core.any():
        pooled = pooled / np.float32(pooled[core].mean())
    load = aimed * edge * fade * np.maximum(pooled, 0.2) * rim
    return np.asarray(load * _settled(relief, fade, film, hand, rng), dtype=np.float32)


def _smooth(value: Field) -> Field:
    t = np.clip(value, 0, 1)
    return np.asarray(t * t * (3 - 2 * t), dtype=np.float32)


def _settled(relief: Field, fade: Field, film: Film, hand: Hand, rng: np.random.Generator) -> Field:
    """Return how the pigment settles: more in the hollows; plainer to see where the wash is thin."""
    speckle = rng.standard_normal(relief.shape, dtype=np.float32)
    amount = np.float32(0.012 + hand.grain * film.grain) * (np.float32(1.25) - np.float32(0.4) * fade)
    settling = -amount * (relief + np.float32(0.25) * speckle)
    return np.asarray(np.exp(settling - amount**2 / 2), dtype=np.float32)


def _dry(relief: Field, inside: Field, rng: np.random.Generator) -> Field:
    """Let a nearly dry brush touch only the hills, most of all along the rim."""
    reach = np.float32(rng.uniform(0.8, 2.2))
    bare_below = np.float32(0.9) - np.float32(2.6) * np.clip(inside / reach, 0, 1)
    return _smooth((relief - bare_below) / np.float32(0.5) + np.float32(0.5))


class _Window:
    """The pixels around a box's strokes, and how deep inside a stroke each lies."""

    def __init__(self, strokes: Sequence[Stroke], ppm: float) -> None:
        left = min(s.rect.x for s in strokes) - MARGIN_MM
        top = min(s.rect.y for s in strokes) - MARGIN_MM
        right = max(s.rect.right for s in strokes) + MARGIN_MM
        bottom = max(s.rect.bottom for s in strokes) + MARGIN_MM
        self.ppm = ppm
        self.row, self.col = round(top * ppm), round(left * ppm)
        self.shape = (round((bottom - top) * ppm), round((right - left) * ppm))
        rows = (np.arange(self.row, self.row + self.shape[0], dtype=np.float32) + 0.5) / np.float32(ppm)
        cols = (np.arange(self.col, self.col + self.shape[1], dtype=np.float32) + 0.5) / np.float32(ppm)
        self._y, self._x = rows[:, None], cols[None, :]

    def depth(self, strokes: Sequence[Stroke]) -> Field:
        """Return millimetres inside the painted outline, below 0 outside it."""
        outline = _outline([s.rect for s in strokes])
        return np.max([self._depth_in(rect) for rect in outline], axis=0)

    def _depth_in(self, rect: Rect) -> Field:
        across = np.abs(self._x - (rect.x + rect.right) / 2) - rect.width / 2 + CORNER_MM
        down = np.abs(self._y - (rect.y + rect.bottom) / 2) - rect.height / 2 + CORNER_MM
        round_corner = np.hypot(np.maximum(across, 0), np.maximum(down, 0))
        depth = CORNER_MM - round_corner - np.minimum(np.maximum(across, down), 0)
        return np.asarray(depth, dtype=np.float32)

    def fade(
        self, strokes: Sequence[Stroke], strengths: Sequence[float], wander: Field
    ) -> tuple[Field, Field]:
        """Return the share of the load left by gradation (1 in full strokes), and the load aimed at.

        ``wander`` shifts the gradation, in shares of its way.
        """
        nearest = np.argmax([self._depth_in(s.rect) for s in strokes], axis=0)
        shares = [np.broadcast_to(self._fade_of(s, wander), self.shape) for s in strokes]
        loads = np.array([v * s.load for v, s in zip(strengths, strokes, strict=True)], dtype=np.float32)
        fade = np.take_along_axis(np.stack(shares), nearest[None], axis=0)[0]
        return np.asarray(fade, dtype=np.float32), loads[nearest]

    def _fade_of(self, stroke: Stroke, wander: Field) -> Field:
        if stroke.strength == "full":
            return np.ones((1, 1), dtype=np.float32)
        return faded(self._way(stroke) + wander)

    def _way(self, stroke: Stroke) -> Field:
        rect = stroke.rect
        way = {
            "right": (self._x - rect.x) / rect.width,
            "left": (rect.right - self._x) / rect.width,
            "down": (self._y - rect.y) / rect.height,
            "up": (rect.bottom - self._y) / rect.height,
        }
        return np.asarray(np.clip(way[stroke.towards or "down"], 0, 1), dtype=np.float32)


def faded(way: Field) -> Field:
    """Return the share of the load left along a graded stroke: 1 at its start, 0 from 0.96 of the way."""
    left = np.clip(1 - way / np.float32(0.96), 0, 1)
    return np.asarray(left**1.9, dtype=np.float32)


def _outline(rects: list[Rect]) -> list[Rect]:
    """One rectangle where the strokes butt into one, otherwise each its own."""
    left, top = min(r.x for r in rects), min(r.y for r in rects)
    right, bottom = max(r.right for r in rects), max(r.bottom for r in rects)
    whole = Rect(left, top, right - left, bottom - top)
    filled = sum(r.width * r.height for r in rects) / (whole.width * whole.height)
    return [whole] if filled > 0.97 else rects
