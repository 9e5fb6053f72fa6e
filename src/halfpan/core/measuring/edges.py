"""Where a flat patch ends: the true rectangle of a painted box or a target's patch about a first guess.

Used for corners that were pointed at by hand or found roughly: every patch that stands out from what lies
round it says where it really is.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.measuring.photo import Array

LOOKS = 48
REACH = 0.75
CORE = 0.15
RING = (0.44, 0.56)
FAINTEST = 0.04


def looking_grid() -> Array:
    """Offsets (x, y) from a patch's middle, shape (48 * 48, 2), in distances between patches."""
    axis = (np.arange(LOOKS) + 0.5) / LOOKS * 2 * REACH - REACH
    return np.stack(np.meshgrid(axis, axis), axis=-1).reshape(-1, 2)


def patch_edges(light: Array) -> Array | None:
    """Return left, top, right, bottom of the patch that lies in the middle of a small view.

    Parameters
    ----------
    light : array, shape (48 * 48, 3), linear light on ``looking_grid``

    Returns
    -------
    array, shape (4,), offsets from the middle of the view in distances between patches; None where the
    patch does not stand out from what lies round it, or has no end inside the view.
    """
    view = np.sqrt(np.clip(np.nan_to_num(light), 0.0, None)).reshape(LOOKS, LOOKS, 3)
    away = np.abs(looking_grid()).max(1).reshape(LOOKS, LOOKS)
    core = np.median(view[away < CORE], axis=0)
    distance = np.linalg.norm(view - core, axis=-1)
    ring = distance[(away > RING[0]) & (away < RING[1])]
    contrast = float(np.quantile(ring, 0.6))
    if contrast < FAINTEST:
        return None
    near = (distance < 0.5 * contrast).astype(np.uint8)
    count, labels = cv2.connectedComponents(near, connectivity=4)
    middle = labels[LOOKS // 2, LOOKS // 2]
    if count < 2 or middle == 0:
        return None
    here = labels == middle
    left_right, top_bottom = _extent(here.sum(0)), _extent(here.sum(1))
    if left_right is None or top_bottom is None:
        return None
    return np.array([left_right[0], top_bottom[0], left_right[1], top_bottom[1]])


def _extent(profile: NDArray[np.int_]) -> tuple[float, float] | None:
    """First and last place where the patch is at least half as wide as it usually is."""
    filled = np.flatnonzero(profile >= 0.5 * np.quantile(profile[profile > 0], 0.75))
    first, last = int(filled[0]), int(filled[-1])
    if first == 0 or last == LOOKS - 1:
        return None
    step = 2 * REACH / LOOKS
    return first * step - REACH, (last + 1) * step - REACH
