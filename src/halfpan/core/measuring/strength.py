"""From masstone to tint: a graded stroke as a path of colours, and the states named on it.

A state is told by colour alone, since how much paint lies where is not known: *mid* is where half of the
masstone's difference from bare paper is left, *tint* where a quarter is (CIEDE2000). A film that thins
evenly passes through both, so a virtual painter can say where they lie.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.difference import delta_e_2000

Array = NDArray[np.float64]

MID, TINT = 0.5, 0.25


def state_on_path(path: ArrayLike, masstone: ArrayLike, paper: ArrayLike, left: float) -> Array | None:
    """Colour on a path at which so much of the masstone's difference from paper is left.

    Parameters
    ----------
    path : array, shape (n, 3), Lab from strong to thin
    masstone, paper : array, shape (3,), Lab
    left : share of the difference, 0-1

    Returns
    -------
    array, shape (3,), between the two points of the path on either side; None when the path never gets there
    """
    colours = np.vstack([np.asarray(masstone, float)[None], np.asarray(path, float)])
    whole = float(delta_e_2000(colours[0], np.asarray(paper, float)))
    if whole < 1e-6:
        return None
    share = delta_e_2000(colours, np.asarray(paper, float)) / whole
    below = np.flatnonzero(share <= left)
    if len(below) == 0:
        return None
    k = int(below[0])
    part = (share[k - 1] - left) / max(share[k - 1] - share[k], 1e-9)
    between: Array = colours[k - 1] + part * (colours[k] - colours[k - 1])
    return between


def value_range(masstone: ArrayLike, paper: ArrayLike) -> float:
    """How far the masstone goes down from the paper, in L*."""
    return float(np.asarray(paper, float)[0] - np.asarray(masstone, float)[0])
