"""A painted sheet in a window: light takes some of the colour out of whatever half is not covered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from halfpan.core.chart.sheet import Box
from halfpan.demo.film import Film
from halfpan.demo.sheet import PaintedSheet, Patch

COVERED = "kept"
"""How the names of zones that stay covered begin."""


def faded_film(film: Film, left: float) -> Film:
    """Return a film whose colour has faded: ``left``, 0-1, of its absorption is there, all its scattering."""
    return replace(film, absorption=film.absorption * left)


def hung_in_light(painted: PaintedSheet, left: Mapping[str, float]) -> PaintedSheet:
    """Return the same sheet after some time in light.

    Parameters
    ----------
    painted : PaintedSheet
        A sheet of a light test.
    left : mapping
        By the name of the box, how much of the colour is left in its exposed half, 0-1; others keep theirs.
    """
    films, patches = list(painted.films), []
    by_name = {box.box: box for box in painted.page.boxes}
    for patch in painted.patches:
        box = _box_of(patch, by_name, painted)
        if box is None or box.box not in left:
            patches.append(patch)
            continue
        films.append(faded_film(painted.films[patch.film], left[box.box]))
        patches += _halves(patch, _middle_of(box) * painted.pixels_per_mm, len(films) - 1)
    return replace(painted, films=tuple(films), patches=tuple(patches), _tables={})


def _box_of(patch: Patch, boxes: Mapping[str, Box], painted: PaintedSheet) -> Box | None:
    rows, cols = patch.level.shape
    x, y = (
        (patch.col + cols / 2) / painted.pixels_per_mm,
        (patch.row + rows / 2) / painted.pixels_per_mm,
    )
    for box in boxes.values():
        first, last = box.strokes[0].rect, box.strokes[-1].rect
        if first.x <= x <= first.right and first.y <= y <= last.bottom:
            return box
    return None


def _middle_of(box: Box) -> float:
    """Return where the cover ends, in mm from the left of the sheet."""
    covered = [zone.rect.right for zone in box.zones if zone.zone.startswith(COVERED)]
    beyond = [zone.rect.x for zone in box.zones if zone.zone.startswith("exposed")]
    return (max(covered) + min(beyond)) / 2


def _halves(patch: Patch, middle: float, faded: int) -> tuple[Patch, Patch]:
    at = int(np.clip(round(middle) - patch.col, 0, patch.level.shape[1]))
    kept, lit = patch.level.copy(), patch.level.copy()
    kept[:, at:] = 0
    lit[:, :at] = 0
    return replace(patch, level=kept), replace(patch, film=faded, level=lit)
