"""Light that lies over the sheet like a veil (glare, flare), told by how black the black line is.

Bare line gives back the ink's own light; where it gives back more, the rest is veil, and as much lies over
the paint near by. The ink's own light is not known: the darkest places of the line stand for it, so a veil
that is the same everywhere cannot be seen.
"""

from __future__ import annotations

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from halfpan.core.measuring.photo import Array

DARKEST = 0.02
"""Share of the bare line's places that is taken as free of veil."""

LENGTH_MM = 40.0
NOISE = 0.003
LEAST = 0.004
FEWEST = 3


def veil_at(points: Array, line: Array, at: Array) -> Array:
    """Veil over places of the sheet.

    Parameters
    ----------
    points : array, shape (n, 2), mm, where the bare line was looked at
    line : array, shape (n,), luminance there relative to paper
    at : array, shape (m, 2), mm

    Returns
    -------
    array, shape (m,), veil as a share of the light of bare paper, 0-0.9; nought with fewer than three places
    """
    usable = np.isfinite(line)
    points, line = points[usable], line[usable]
    if len(line) < FEWEST:
        return np.zeros(len(at))
    ink = float(np.quantile(line, DARKEST))
    over = (line - ink) / (1.0 - ink)
    amplitude = np.sqrt(max(float(np.mean(over**2)) - NOISE**2, 0.0))
    if amplitude < LEAST:
        return np.zeros(len(at))
    near = _kernel(points, points) + (NOISE / amplitude) ** 2 * np.eye(len(points))
    veil = _kernel(at, points) @ cho_solve(cho_factor(near), over)
    return np.clip(veil, 0.0, 0.9)


def without_veil(relative: Array, veil: Array) -> Array:
    """Take the veil off light that is relative to bare paper; ``veil`` broadcasts over the last axis."""
    return np.maximum((relative - veil) / (1.0 - veil), 1e-5)


def _kernel(first: Array, second: Array) -> Array:
    apart = (first[:, :1] - second[:, 0]) ** 2 + (first[:, 1:] - second[:, 1]) ** 2
    return np.asarray(np.exp(-0.5 * apart / LENGTH_MM**2))
