"""How much steeper a picture's lightness runs than its response has it, at some level.

A camera's tone may bend in ways that a response of few numbers cannot follow. That hardly moves a colour, but
a wash's grain is a matter of slope: a bend of 3 % over half of the way from white to grey is a tenth of it.
What the fit leaves of the lightness of grey patches tells, by a Gaussian process over ln Y.
"""

from __future__ import annotations

import numpy as np

from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import Response

BEND, LENGTH = 0.04, 0.8
"""What a tone may stray by, as a logarithm of Y, and over what difference of ln Y. A judgement; half or twice
either moves grain by a hundredth or two."""

DARKEST, GREYEST = -2.6, 10.0
"""Least ln Y and greatest chroma of a patch that tells of tone, and not of veil, ink or primaries."""

NOISE, LEVEL = 0.006, 0.05
"""Doubt of a grey patch's ln Y, and what may be left of all of them alike, which is no slope."""

FEWEST = 3


def steepness(response: Response, level: float) -> tuple[float, float]:
    """Return by how much to multiply small differences of ln Y, and the standard deviation of that.

    Parameters
    ----------
    response : Response; one that rests on fewer than three grey patches is taken as it is: (1, 0)
    level : Y of the wash, relative to paper
    """
    if response.left is None or response.anchors is None or level <= 0:
        return 1.0, 0.0
    known = np.log(np.maximum(lab_to_xyz(response.anchors)[:, 1], 1e-4))
    grey = (known > DARKEST) & (np.hypot(response.anchors[:, 1], response.anchors[:, 2]) < GREYEST)
    if grey.sum() < FEWEST:
        return 1.0, 0.0
    at, left = known[grey], response.left[grey]
    near = BEND**2 * _alike(at[:, None] - at) + LEVEL**2 + NOISE**2 * np.eye(len(at))
    apart = np.log(level) - at
    slope = -(BEND**2) * _alike(apart) * apart / LENGTH**2
    weight = np.linalg.solve(near, slope)
    variance = (BEND / LENGTH) ** 2 - float(weight @ slope)
    return 1.0 + float(weight @ left), float(np.sqrt(max(variance, 0.0)))


def _alike(apart: Array) -> Array:
    return np.asarray(np.exp(-0.5 * (apart / LENGTH) ** 2))
