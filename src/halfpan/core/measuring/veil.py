"""Light that lies over the sheet like a veil (glare, flare), told by how black the black line is.

Bare line gives back the ink's own light; where it gives back more, the rest is veil, and as much lies over
the paint near by. The ink's own light is not known: the darkest places of the line stand for it, so a veil
that is the same everywhere cannot be seen from the sheet alone. A target beside the sheet tells the veil
over itself, and since veil changes slowly, that of the sheet's near edge.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from halfpan.core.measuring.photo import Array

DARKEST = 0.02
"""Share of the bare line's places that is taken as free of veil, at the most."""

LENGTH_MM, FAR_MM = 50.0, 80.0
"""How far veil is felt between places of the line, and from a target to the sheet."""

NOISE = 0.003
LEAST = 0.004
FEWEST = 3
USUAL_INK, INK_SD = 0.045, 0.02
"""Printed black relative to paper: L* 16 on coated to 31 on uncoated paper (ISO 12647-2, from memory)."""

INK_SHARE = 0.15
"""How far the ink may be darker than the line's darkest places, as a share of the veil's own changes."""

LITTLE, KNOWN = 0.08, 0.008
"""A veil up to the first may always be taken off. More of it only where it is known well: the light that is
left is in doubt by no more than the second, as a share of bare paper's (a standard deviation)."""


@dataclass(frozen=True, slots=True, eq=False)
class Beside:
    """Veil that is known at places off the sheet: ``points`` (n, 2) mm, ``veil`` (n,), its ``doubt`` (n,)."""

    points: Array
    veil: Array
    doubt: Array


@dataclass(frozen=True, slots=True, eq=False)
class Veil:
    """Veil over places, as a ``share`` (m,) of the light of bare paper, and the ``doubt`` of it (m,)."""

    share: Array
    doubt: Array


def veil_at(points: Array, line: Array, at: Array, beside: Beside | None = None) -> Veil:
    """Tell the veil over places of the sheet.

    Parameters
    ----------
    points : array, shape (n, 2), mm, where the bare line was looked at
    line : array, shape (n,), luminance there relative to paper
    at : array, shape (m, 2), mm
    beside : veil known at places off the sheet

    Returns
    -------
    Veil
        0-0.9; nought without doubt with fewer than three places, or where the line is the same everywhere.
        Its doubt is what places between those of the line leave open, no less than what leaving each place
        out misses, and the ink's own light.
    """
    usable = np.isfinite(line)
    points, line = points[usable], line[usable]
    if len(line) < FEWEST:
        return Veil(np.zeros(len(at)), np.zeros(len(at)))
    ink = float(np.quantile(line, DARKEST))
    spread = np.sqrt(max(float(np.mean((line - ink) ** 2)) - NOISE**2, 0.0))
    if spread < LEAST:
        return Veil(np.zeros(len(at)), np.zeros(len(at)))
    known = Beside(np.empty((0, 2)), np.empty(0), np.empty(0)) if beside is None else beside
    ink = min(ink, _ink(points, line, known, max(spread, 2 * float(np.max(known.veil, initial=0.0)))))
    over = np.concatenate([(line - ink) / (1.0 - ink), known.veil])
    there = np.concatenate([points, known.points])
    noise = np.concatenate([np.full(len(line), NOISE), np.hypot(known.doubt, NOISE)])
    amplitude = float(np.sqrt(np.mean(over**2)))
    near = np.linalg.inv(amplitude**2 * _kernel(there, there, LENGTH_MM) + np.diag(noise**2))
    reach = amplitude**2 * _kernel(at, there, LENGTH_MM)
    left_out = ((near @ over) / np.diag(near))[: len(line)]
    open_still = np.maximum(amplitude**2 - np.einsum("ij,jk,ik->i", reach, near, reach), 0.0)
    doubt = np.sqrt(np.maximum(open_still, np.mean(left_out**2)) + (INK_SHARE * spread) ** 2)
    return Veil(np.clip(reach @ near @ over, 0.0, 0.9), doubt)


def _ink(points: Array, line: Array, known: Beside, amplitude: float) -> float:
    """Light of the ink that goes best with the veil known beside the sheet and with what ink usually is.

    Generalised least squares. Where no veil is known beside the sheet the usual ink is no evidence: a veil
    that is even over the whole sheet and a greyer ink look alike, and neither is likelier.
    """
    if not len(known.veil):
        return 1.0
    there = np.concatenate([points, known.points])
    noise = np.concatenate([np.full(len(line), NOISE), np.hypot(known.doubt, NOISE)])
    factor = cho_factor(amplitude**2 * _kernel(there, there, FAR_MM) + np.diag(noise**2))
    values = np.concatenate([line, known.veil])
    share = np.concatenate([np.ones(len(line)), np.zeros(len(known.veil))])
    pull = cho_solve(factor, share)
    weight = 1.0 / INK_SD**2
    return max(0.0, float((pull @ values + weight * USUAL_INK) / (pull @ share + weight)))


def hidden(veil: Veil) -> NDArray[np.bool_]:
    """Return which places (m,) lie under more veil than can be taken off."""
    return np.asarray((veil.share > LITTLE) & (veil.doubt > KNOWN * (1.0 - veil.share)))


def without_veil(relative: Array, veil: Array) -> Array:
    """Take the veil off light that is relative to bare paper; ``veil`` broadcasts over the last axis."""
    return np.maximum((relative - veil) / (1.0 - veil), 1e-5)


def _kernel(first: Array, second: Array, length_mm: float) -> Array:
    apart = (first[:, :1] - second[:, 0]) ** 2 + (first[:, 1:] - second[:, 1]) ** 2
    return np.asarray(np.exp(-0.5 * apart / length_mm**2))
