"""What is true of a painted sheet, kept beside its pictures: the measure of every reading."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Box, Rect, Zone
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.colour.spectra import reflectance_to_lab, reflectance_to_xyz, xyz_weights
from halfpan.demo.film import Film, film_at
from halfpan.demo.sheet import PaintedSheet, light_from

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class ZoneTruth:
    """One zone: ``lab`` at the load the painter aimed at, ``area_lab`` the mean light of all its pixels.

    For a graded zone ``lab`` is that of the mean load across it.
    """

    box: str
    zone: str
    lab: Array
    area_lab: Array
    load: float


@dataclass(frozen=True, slots=True, eq=False)
class BoxTruth:
    """One painted box: its film, the load aimed at, contrast ratio over print, and the graded stroke.

    ``graded_loads`` (n,) and ``graded_lab`` (n, 3) run along the graded zone from its strong end; ``grain``
    is the SD of the logarithm of the load through granulation alone. A box left bare has load 0 and no film.
    """

    box: str
    paint: str | None
    film: Film | None
    load: float
    grain: float
    contrast_ratio: float
    graded_loads: Array
    graded_lab: Array


@dataclass(frozen=True, slots=True, eq=False)
class Truth:
    """All that is true of one painted page, D50."""

    paper_lab: Array
    black_lab: Array
    zones: tuple[ZoneTruth, ...]
    boxes: tuple[BoxTruth, ...]

    def zone(self, box: str, zone: str) -> ZoneTruth | None:
        """Return the truth of one zone, or none."""
        return next((z for z in self.zones if z.box == box and z.zone == zone), None)

    def box(self, box: str) -> BoxTruth | None:
        """Return the truth of one box, or none."""
        return next((b for b in self.boxes if b.box == box), None)


def window_of(painted: PaintedSheet, rect: Rect) -> tuple[int, int, int, int]:
    """Return (row, col, rows, cols) of a rectangle of the sheet."""
    ppm = painted.pixels_per_mm
    row, col = round(rect.y * ppm), round(rect.x * ppm)
    rows = max(1, round(rect.bottom * ppm) - row)
    return row, col, rows, max(1, round(rect.right * ppm) - col)


def area_lab(painted: PaintedSheet, rect: Rect) -> Array:
    """Return the colour, shape (3,), of the mean light of a rectangle, as an instrument would see it."""
    light = light_from(painted, xyz_weights(), window_of(painted, rect))
    return xyz_to_lab(light.reshape(-1, 3).mean(axis=0, dtype=np.float64))


def zone_truth(painted: PaintedSheet, box: Box, zone: Zone, film: Film | None, load: float) -> ZoneTruth:
    """Return what is true of one zone that carries ``load`` of ``film`` (no film: bare)."""
    ground = painted.black if zone.ground == "black" or zone.zone == "bare line" else painted.paper
    reflectance = ground if film is None else film_at(film, load, ground)
    return ZoneTruth(
        box.box, zone.zone, reflectance_to_lab(reflectance), area_lab(painted, zone.rect), float(load)
    )


def contrast_of(painted: PaintedSheet, film: Film, load: float) -> float:
    """Return Y over print / Y over paper at some load."""
    over = [reflectance_to_xyz(film_at(film, load, g))[1] for g in (painted.black, painted.paper)]
    return float(over[0] / over[1])
