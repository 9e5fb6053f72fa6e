"""Read a hand-ruled or older chart: a grid of boxes without printed marks.

With bare paper between or round the boxes it is read like any page. A grid whose boxes are known colours
(a target read as a chart) may lie on any ground; each known box is then foretold by the others alone.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.boxes import read_boxes
from halfpan.core.measuring.doubt import doubt_of_light
from halfpan.core.measuring.flatten import to_picture
from halfpan.core.measuring.grid import Grid, grid_page, read_zone, sheet_size
from halfpan.core.measuring.page import Reference, respond, see_page
from halfpan.core.measuring.patches import Patches
from halfpan.core.measuring.photo import Array, Photo, light_at
from halfpan.core.measuring.response import USUAL_PAPER, Response, as_on_sheet, correct, usual_prior
from halfpan.core.measuring.response_fit import CLIPPED_PATCH, MODELS, fit_response
from halfpan.core.paint.reading import Lab, Light, Reading, SheetRead, Unread
from halfpan.errors import UnreadablePhoto

FEWEST_KNOWN = 8
MOST_FITS = 24
LIGHT_DOUBT = 0.2
TINT_DOUBT = 0.5
LIGHT_REACH = 2.0
"""A field without paper may be lit this much more unevenly for its size than a target beside a sheet."""
UNEVEN = 0.02
"""Unevenness of light, as a logarithm, that slope and bend leave and no bare paper shows: common practice."""

VEIL_MUST_GAIN = 0.95
GREY_CHROMA = 5.0
LOOKS = 40
TRIM = 0.15


def assign(names: Sequence[str], grid: Grid, order: str = "reading") -> dict[str, str | None]:
    """Give paints to boxes in the order they were painted; boxes that are missing are passed over.

    Parameters
    ----------
    names : paints, in order
    grid : Grid
    order : "reading" (row by row), "snake" (every other row backwards) or "column" (column by column)

    Raises
    ------
    UnreadablePhoto
        When there are more paints than boxes.
    """
    cells = [(r, c) for r in range(grid.rows) for c in range(grid.columns)]
    if order == "column":
        cells.sort(key=lambda cell: (cell[1], cell[0]))
    elif order == "snake":
        cells.sort(key=lambda cell: (cell[0], cell[1] if cell[0] % 2 == 0 else -cell[1]))
    boxes = [grid.name(r * grid.columns + c) for r, c in cells if grid.present[r, c]]
    if len(names) > len(boxes):
        raise UnreadablePhoto(
            f"There are {len(names)} paints for {len(boxes)} boxes; check rows and columns."
        )
    return dict(zip(boxes, names, strict=False))


def measure_ruled(
    photo: Photo,
    grid: Grid,
    *,
    paints: Mapping[str, str | None] | None = None,
    known: Mapping[str, Lab] | None = None,
    reference: Reference | None = None,
    paper: Lab | None = None,
    device: Response | None = None,
) -> SheetRead:
    """Read every box of a hand-ruled chart.

    Parameters
    ----------
    photo : Photo
    grid : Grid
    paints : the paint of each box, by the box's name
    known : colours of boxes of the grid itself that are known (a target read as a chart); eight or more
    reference, paper, device : as for a printed page
    """
    if known and len(known) >= FEWEST_KNOWN:
        return _by_known_boxes(photo, grid, paints or {}, known)
    page = grid_page(grid, {grid.name(k): grid.name(k) for k in range(len(grid.rects))})
    seen = see_page(photo, page, flattening=grid.flattening, sheet=sheet_size(grid))
    if seen.field is None and not reference and not known:
        raise UnreadablePhoto(
            f"No bare paper can be seen round the boxes in {photo.name}, so the light cannot be judged; "
            "photograph more of the sheet, or give known colours."
        )
    response = respond(seen, page, reference=reference or known, paper=paper, device=device)
    return _with_paints(read_boxes(seen, page, response), paints or {})


def _with_paints(read: SheetRead, paints: Mapping[str, str | None]) -> SheetRead:
    """Put the paints' names where the boxes' own names stood, so that a box without a paint is read too."""
    return replace(
        read,
        readings=tuple(replace(one, paint=paints.get(one.box)) for one in read.readings),
        swatches=tuple(
            replace(one, paint=paints.get(one.box), name=paints.get(one.box) or one.box)
            for one in read.swatches
        ),
    )


def sample_grid(photo: Photo, grid: Grid) -> Patches:
    """Light of every box of a grid, as patches whose colours are not known yet (Lab is NaN)."""
    within = (np.arange(LOOKS) + 0.5) / LOOKS
    share = np.stack(np.meshgrid(within, within), axis=-1).reshape(-1, 2)
    zones = [read_zone(rect).rect for rect in grid.rects]
    corner = np.array([[z.x, z.y] for z in zones])
    size = np.array([[z.width, z.height] for z in zones])
    places = to_picture(grid.flattening, corner[:, None] + share * size[:, None])
    light, burnt = light_at(photo, places)
    drowned = (light <= photo.decode[max(1, int(len(photo.decode) * 3 / 255))].min()).any(-1)
    light = np.nan_to_num(light)
    ranked = np.argsort(light.mean(-1), axis=1)
    cut = int(TRIM * ranked.shape[1])
    kept = np.take_along_axis(light, ranked[:, cut : ranked.shape[1] - cut, None], axis=1)
    names = tuple(grid.name(k) for k in range(len(grid.rects)))
    middles = to_picture(grid.flattening, corner + size / 2)
    lab = np.full((len(names), 3), np.nan)
    return Patches(kept.mean(1), lab, middles, (burnt | drowned).mean(1), 1.0, names)


def _by_known_boxes(
    photo: Photo, grid: Grid, paints: Mapping[str, str | None], known: Mapping[str, Lab]
) -> SheetRead:
    """Correct a grid by its own known boxes; a known box's reading never leans on itself."""
    sampled = sample_grid(photo, grid)
    points = LIGHT_REACH * np.array([(r.x + r.width / 2, r.y + r.height / 2) for r in grid.rects])
    is_known = np.array([name in known for name in sampled.names])
    lab = np.array([known.get(name, (np.nan,) * 3) for name in sampled.names], dtype=np.float64)
    patches = Patches(sampled.light, lab, sampled.places, sampled.clipped, sampled.doubt, sampled.names)
    if (is_known & (sampled.clipped <= CLIPPED_PATCH)).sum() < FEWEST_KNOWN:
        raise UnreadablePhoto(
            f"Fewer than {FEWEST_KNOWN} boxes of known colour can be read in {photo.name}; "
            "the rest are burnt out or drowned in black."
        )
    veiled, model = _choice(patches, points, is_known)
    seen: dict[int, tuple[Array, float]] = {}
    for left_out in _folds(is_known):
        response, relative = _respond(patches, points, is_known & ~left_out, veiled=veiled, models=(model,))
        light = as_on_sheet(response, relative[left_out], points[left_out])
        colours = correct(response, light)
        uneven = UNEVEN**2 * np.einsum("ni,nj->nij", light, light)
        radii = doubt_of_light(response, colours, light, uneven).radius
        seen |= {int(k): (colours[n], float(radii[n])) for n, k in enumerate(np.flatnonzero(left_out))}
    readings = []
    for k, name in enumerate(sampled.names):
        if grid.present.flat[k]:
            flags = ("clipped",) if sampled.clipped[k] > CLIPPED_PATCH else ()
            readings.append(_reading(name, paints.get(name), *seen[k], flags))
    misses = [float(delta_e_2000(seen[k][0], lab[k])) for k in np.flatnonzero(is_known).tolist()]
    check = float(np.mean(misses)) if misses else None
    unread = tuple(
        Unread(grid.name(int(k)), "Nothing is painted here.") for k in np.flatnonzero(~grid.present.ravel())
    )
    return SheetRead(Light("target", check), tuple(readings), unread, ())


def _folds(is_known: NDArray[np.bool_]) -> list[NDArray[np.bool_]]:
    """Return groups of boxes left out together: at most 24 of known ones, and one of all others."""
    number = np.cumsum(is_known) - 1
    count = min(MOST_FITS, int(is_known.sum()))
    folds = [is_known & (number % count == k) for k in range(count)]
    return folds if is_known.all() else [*folds, ~is_known]


def _choice(patches: Patches, points: Array, is_known: NDArray[np.bool_]) -> tuple[bool, str]:
    """Whether taking off a veil, judged by the greys, foretells left-out boxes clearly better; the model."""
    plain, _ = _respond(patches, points, is_known, veiled=False)
    veiled, _ = _respond(patches, points, is_known, veiled=True)
    if plain.check is None or veiled.check is None or veiled.check >= VEIL_MUST_GAIN * plain.check:
        return False, plain.model
    return True, veiled.model


def _respond(
    patches: Patches,
    points: Array,
    used: NDArray[np.bool_],
    *,
    veiled: bool,
    models: Collection[str] = tuple(MODELS),
) -> tuple[Response, Array]:
    """Fit the response to some known boxes; return it with the relative light of all."""
    chosen = patches.keep(used)
    veil, gain = _veil(chosen) if veiled else (np.zeros(3), np.quantile(chosen.light, 0.95, axis=0))
    relative = np.maximum((patches.light - veil) / gain, 1e-4)
    response = fit_response(
        chosen,
        relative[used],
        usual_prior(),
        tier="target",
        points=points[used],
        light_doubt=LIGHT_DOUBT,
        tint_doubt=TINT_DOUBT,
        models=models,
    )
    return response, relative


def _veil(patches: Patches) -> tuple[Array, Array]:
    """Light that lies over everything, and the gain of each channel, from the greys of known colour."""
    expected = np.clip(xyz_to_linear_srgb(lab_to_xyz(patches.lab)), 0.0, None)
    grey = (np.hypot(patches.lab[:, 1], patches.lab[:, 2]) < GREY_CHROMA) & (patches.clipped <= CLIPPED_PATCH)
    paper = xyz_to_linear_srgb(lab_to_xyz(np.array(USUAL_PAPER)))
    if grey.sum() < 3:
        return np.zeros(3), np.quantile(patches.light, 0.95, axis=0)
    veil, gain = np.zeros(3), np.ones(3)
    for c in range(3):
        weight = 1.0 / (expected[grey, c] + 0.03)
        terms = np.stack([expected[grey, c], np.ones(grey.sum())], axis=-1) * weight[:, None]
        gain[c], veil[c] = np.linalg.lstsq(terms, patches.light[grey, c] * weight, rcond=None)[0]
    lowest = patches.light[grey].min(0)
    return np.clip(veil, 0.0, 0.8 * lowest), np.maximum(gain, 1e-6) * paper


def _reading(name: str, paint: str | None, seen: Array, radius: float, flags: tuple[str, ...]) -> Reading:
    """Return a reading whose radius is the doubt of the fit to the known boxes, and what it cannot follow."""
    lab: Lab = (float(seen[0]), float(seen[1]), float(seen[2]))
    return Reading(name, paint, "masstone", lab, radius, "target", flags, None, LOOKS * LOOKS)
