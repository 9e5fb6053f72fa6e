"""What lies in front of a camera: the painted sheet on a table, and perhaps a target beside it."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.demo.sheet import PaintedSheet, light_from
from halfpan.demo.target import patch_middles, target_light, target_size, turned
from halfpan.demo.tooth import slow_field

Array = NDArray[np.float64]
Field = NDArray[np.float32]

TABLE_MM = 40.0
ASIDE_MM = 9.0
TABLE = np.array([0.16, 0.145, 0.13])


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """A painted sheet on a table; ``target``: the D50 colours (24, 3) of a target at its right, or none."""

    painted: PaintedSheet
    target: Array | None = None

    @property
    def target_at(self) -> tuple[float, float]:
        """Where the top left of the target lies, (x, y) in mm of the sheet."""
        tall = target_size()[0]
        return self.painted.sheet.width_mm + ASIDE_MM, (self.painted.sheet.height_mm - tall) / 2

    def corners(self) -> Array:
        """Return what must be in the picture: corners of sheet and target, shape (n, 2), in mm."""
        wide, high = self.painted.sheet.width_mm, self.painted.sheet.height_mm
        corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
        if self.target is not None:
            x, y = self.target_at
            tall, broad = target_size()
            corners += [(x + broad, y), (x + broad, y + tall)]
        return np.array(corners)

    def target_places(self) -> Array:
        """Return the middles of the target's patches, shape (24, 2), in mm of the sheet, as published."""
        x, y = self.target_at
        middles = patch_middles()
        return np.stack([x + target_size()[1] - middles[:, 1], y + middles[:, 0]], axis=-1)

    def light(self, weights: Array, rng: np.random.Generator) -> Field:
        """Return the plane under even light, from ``TABLE_MM`` left of and above the sheet, at its dpi."""
        ppm = self.painted.pixels_per_mm
        rows, cols = self.painted.ink.shape
        edge = round(TABLE_MM * ppm)
        aside = round((ASIDE_MM + target_size()[1]) * ppm) if self.target is not None else 0
        shape = (rows + 2 * edge, cols + 2 * edge + aside)
        small = (shape[0] // 8 + 1, shape[1] // 8 + 1)
        rough = 1 + np.float32(0.10) * slow_field(small, 14 * ppm / 8, rng)
        grain = np.asarray(cv2.resize(rough, shape[::-1]), dtype=np.float32)
        plane: Field = grain[..., None] * np.asarray(TABLE * weights.sum(axis=0), dtype=np.float32)
        plane[edge : edge + rows, edge : edge + cols] = light_from(self.painted, weights)
        if self.target is not None:
            x, y = (round(v * ppm) + edge for v in self.target_at)
            patches = turned(target_light(self.target, weights, ppm))
            plane[y : y + patches.shape[0], x : x + patches.shape[1]] = patches
        return plane
