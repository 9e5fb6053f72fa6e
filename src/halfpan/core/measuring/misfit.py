"""What no model of a device follows, in CIEDE2000, and how it grows away from patches.

Two witnesses. Patches that were left out of a fit show what it misses at their own distance from the others.
Those of a target are printed from a few dyes alike and say little of paints, whose spectra are their own;
there the device speaks: one that answers in a way that is bent (tone, root terms) sees otherwise than the eye
does, and what it makes of a paint is in doubt by as much.

References
----------
.. [1] D. J. C. MacKay, "Bayesian interpolation", Neural Computation 4, 415 (1992): the scale of a prior told
   by the numbers that were fitted and by how far the data settle them.
"""

from __future__ import annotations

import numpy as np

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.photo import Array

REACH = 10.0
"""Distance from the nearest patches, in CIEDE2000, at which the misfit's variance has doubled."""

UNLIKE = 0.6
"""Misfit beside a patch, in CIEDE2000, of a device that is as bent as the prior holds likely."""

EXPECTED = 0.1
"""Weight, in numbers settled, of the guess that a device is as bent as the prior holds likely."""

ALONE = 24.0
"""Weight, in known paints, of what the device says beside what left-out paints show: a few show little."""

NEAREST = 2


def growth(away: Array) -> Array:
    """Say how many times the misfit's variance beside a patch is reached at some distance from patches."""
    return np.asarray(1.0 + (away / REACH) ** 2)


def distance(lab: Array, patches: Array) -> Array:
    """Mean distance, in CIEDE2000, to the two nearest patches; shapes (..., 3), (n, 3) to (...)."""
    away = np.sort(delta_e_2000(lab[..., None, :], patches), axis=-1)
    return np.asarray(away[..., :NEAREST].mean(-1))


def shown(left_out: Array, lab: Array) -> float:
    """Variance along one axis beside a patch, from patches left out.

    Parameters
    ----------
    left_out : array, shape (n,), squared misses of patches, CIEDE2000, the fit's own doubt taken off
    lab : array, shape (n, 3), the patches; each was foretold from its distance to the others
    """
    among = delta_e_2000(lab[:, None], lab)
    np.fill_diagonal(among, np.inf)
    away = np.sort(among, axis=-1)[:, :NEAREST].mean(-1)
    return float(np.mean(left_out / 3.0 / growth(away)))


def bentness(values: Array, variance: Array, prior: Array) -> float:
    """How bent a device is: mean square of its numbers, where 1 is what the prior holds likely.

    Parameters
    ----------
    values, variance : arrays, shape (k,), numbers that are nought in a faithful device, as fitted
    prior : array, shape (k,), their standard deviations before the fit
    """
    settled = float(np.sum(1.0 - variance / prior**2))
    return float((EXPECTED + np.sum((values / prior) ** 2)) / (EXPECTED + max(settled, 0.0)))


def misfit_of(shown: float, bentness: float, paints: int) -> float:
    """Return the standard deviation of the misfit along one axis, beside a patch.

    Parameters
    ----------
    shown : variance that left-out patches show
    bentness : of the device
    paints : how many of the patches are paints; nought for a target, whose patches are not
    """
    unlike = UNLIKE**2 * bentness
    if not paints:
        return float(np.sqrt(shown + unlike))
    return float(np.sqrt((ALONE * unlike + paints * shown) / (ALONE + paints)))
