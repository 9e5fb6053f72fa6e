"""A painted sheet as matter, not as a picture: printed ink, loads of paint, relief. Any light may fall on it.

What a camera or an instrument sees of it is worked out by `light_from`, for any three spectral weights.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Page, Sheet
from halfpan.core.colour.screen import linear_srgb_to_xyz
from halfpan.core.colour.spectra import xyz_weights
from halfpan.demo.film import Film, film_at
from halfpan.demo.tooth import Tooth

Array = NDArray[np.float64]
Field = NDArray[np.float32]

FULLEST = 4.0  # the greatest load that can be kept
STEPS = 4096
_KNOTS = 257


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """Some paint: the film's number, where its window starts, and the square root of the load in steps."""

    film: int
    row: int
    col: int
    level: NDArray[np.uint16]


@dataclass(frozen=True, slots=True, eq=False)
class Wash:
    """A picture of real paint laid into the sheet as it is; linear sRGB."""

    row: int
    col: int
    linear: Field


@dataclass(frozen=True, slots=True, eq=False)
class PaintedSheet:
    """One printed and painted page.

    Attributes
    ----------
    sheet, page : the geometry it was painted by
    dpi : pixels to the inch of ``ink`` and all windows
    ink : array, shape (rows, cols), uint8, share of each pixel covered by print (255 all)
    paper, black : array, shape (31,), reflectance of bare paper and of printed ink
    tooth, relief : the paper's grain, and how strongly light catches on it
    films : the film each patch speaks of
    """

    sheet: Sheet
    page: Page
    dpi: float
    ink: NDArray[np.uint8]
    paper: Array
    black: Array
    tooth: Tooth
    relief: float
    films: tuple[Film, ...]
    patches: tuple[Patch, ...]
    washes: tuple[Wash, ...] = ()
    _tables: dict[int, Array] = field(default_factory=dict)

    @property
    def pixels_per_mm(self) -> float:
        """Pixels to the millimetre."""
        return self.dpi / 25.4

    def spectra(self, film: int) -> Array:
        """Return reflectance, shape (2, knots, 31), of a film at rising loads over paper and over print."""
        if film not in self._tables:
            loads = np.linspace(0, 1, _KNOTS) ** 2 * FULLEST
            grounds = (self.paper, self.black)
            self._tables[film] = np.stack([film_at(self.films[film], loads, g) for g in grounds])
        return self._tables[film]


def load_to_level(load: Field) -> NDArray[np.uint16]:
    """Return loads as whole steps of their square root."""
    root = np.sqrt(np.clip(load, 0, FULLEST) / np.float32(FULLEST))
    return np.asarray(root * np.float32(STEPS - 1) + np.float32(0.5), dtype=np.uint16)


def light_from(
    painted: PaintedSheet, weights: Array, window: tuple[int, int, int, int] | None = None
) -> Field:
    """Return what comes back from a window of the sheet under even light.

    Parameters
    ----------
    painted : PaintedSheet
    weights : array, shape (31, 3), from reflectance to the three numbers wanted
    window : (row, col, rows, cols), the whole sheet when none

    Returns
    -------
    array, shape (rows, cols, 3), float32
    """
    row, col, rows, cols = window or (0, 0, *painted.ink.shape)
    ink = painted.ink[row : row + rows, col : col + cols]
    steps = np.linspace(0, 1, 256, dtype=np.float32)[:, None]
    bare, black = (np.asarray(s @ weights, dtype=np.float32) for s in (painted.paper, painted.black))
    light: Field = (bare + steps * (black - bare))[ink]
    for patch in painted.patches:
        _add_patch(light, painted, patch, weights, (row, col))
    for wash in painted.washes:
        _add_wash(light, wash, weights, (row, col))
    catch = painted.tooth.over(row, col, *ink.shape)
    light *= 1 + np.float32(painted.relief) * catch[..., None]
    return light


def _shared(
    row: int, col: int, shape: tuple[int, ...], start: tuple[int, int], size: tuple[int, ...]
) -> tuple[tuple[slice, slice], tuple[slice, slice]] | None:
    """Where a thing of some shape and a window overlap, in the window's and in the thing's own pixels."""
    top, left = max(row, start[0]), max(col, start[1])
    bottom, right = min(row + shape[0], start[0] + size[0]), min(col + shape[1], start[1] + size[1])
    if top >= bottom or left >= right:
        return None
    return (
        (slice(top - start[0], bottom - start[0]), slice(left - start[1], right - start[1])),
        (slice(top - row, bottom - row), slice(left - col, right - col)),
    )


def _add_patch(
    light: Field,
    painted: PaintedSheet,
    patch: Patch,
    weights: Array,
    start: tuple[int, int],
) -> None:
    shared = _shared(patch.row, patch.col, patch.level.shape, start, light.shape)
    if shared is None:
        return
    there, here = shared
    level = patch.level[here]
    over_paper, over_black = _shares(painted.spectra(patch.film) @ weights)
    under = painted.ink[start[0] : start[0] + light.shape[0], start[1] : start[1] + light.shape[1]][there]
    share = over_paper[level]
    printed = under > 0
    if printed.any():
        cover = under[printed].astype(np.float32)[:, None] / np.float32(255)
        bare, black = (np.asarray(s @ weights, dtype=np.float32) for s in (painted.paper, painted.black))
        before = bare * (1 - cover) + black * cover
        after = share[printed] * bare * (1 - cover) + over_black[level[printed]] * black * cover
        share[printed] = after / before
    light[there] *= share


def _shares(response: Array) -> tuple[Field, Field]:
    """Return for each step of load what the film leaves of the ground's light; over paper, over print."""
    knots = np.linspace(0, STEPS - 1, response.shape[1])
    steps = np.arange(STEPS)
    fine = np.stack(
        [np.stack([np.interp(steps, knots, one[:, c]) for c in range(3)], axis=-1) for one in response]
    )
    shares = np.asarray(fine / fine[:, :1], dtype=np.float32)
    return shares[0], shares[1]


def _add_wash(light: Field, wash: Wash, weights: Array, start: tuple[int, int]) -> None:
    shared = _shared(wash.row, wash.col, wash.linear.shape, start, light.shape)
    if shared is not None:
        there, here = shared
        light[there] = wash.linear[here] @ np.asarray(smooth_primaries() @ weights, dtype=np.float32)


@cache
def smooth_primaries() -> Array:
    """Return the smoothest three spectra, shape (3, 31), whose sums have the XYZ of given linear sRGB.

    Equal parts of all three are flat. They stand in where only a picture of real paint is known.
    """
    weights = xyz_weights()
    bend = np.diff(np.eye(31), 2, axis=0)
    system = np.block([[bend.T @ bend + 1e-9 * np.eye(31), weights], [weights.T, np.zeros((3, 3))]])
    target = linear_srgb_to_xyz(np.eye(3))
    sides = np.concatenate([np.zeros((31, 3)), target.T])
    return np.asarray(np.linalg.solve(system, sides)[:31].T)
