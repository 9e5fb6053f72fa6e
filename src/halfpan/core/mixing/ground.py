"""What lies under the paint, band by band, known by its spectrum or only by its colour."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.colour.spectra import BANDS, xyz_weights


def ground_reflectance(ground: Sequence[float]) -> NDArray[np.float64]:
    """Return 31 band reflectance of a ground given as such, or as a colour (CIELAB).

    A colour gets the quadratic spectrum that has it: papers and black lines are smooth enough for that.
    """
    if len(ground) == 3:
        return _smooth(tuple(float(v) for v in ground))
    return np.asarray(ground, dtype=np.float64)


def is_light(ground: Sequence[float]) -> bool:
    """Say whether a ground is a paper rather than a black line."""
    return ground[0] > 50 if len(ground) == 3 else float(np.mean(ground)) > 0.2


@lru_cache(maxsize=4096)
def _smooth(lab: tuple[float, ...]) -> NDArray[np.float64]:
    x = (BANDS - 550) / 150
    shapes = np.stack([np.ones_like(x), x, x * x])
    amounts = np.linalg.solve((shapes @ xyz_weights()).T, lab_to_xyz(np.array(lab)))
    spectrum = np.clip(amounts @ shapes, 0.0, 1.0)
    spectrum.setflags(write=False)
    return spectrum
