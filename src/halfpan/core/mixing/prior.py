"""What is believed of a paint before anything of it was read, and of the way it lies on paper.

Nothing here is fitted to a set of paints: absorption and scattering are taken as smooth curves of unknown
height. A paint is a dozen numbers, each of unit normal prior, that span those curves; one more bends how
amount turns into thickness.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.spectra import BANDS

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Prior:
    """Settings of the model; distances in nm, heights as standard deviations of natural logarithms.

    ``surface`` and ``inside`` are the two Saunderson constants of paint on paper as it is read;
    ``uneven`` is how much the thickness of a flat wash varies from place to place.
    """

    numbers: int = 12
    mean_absorption: float = -0.5
    mean_scattering: float = -1.5
    mean_scattering_white: float = 0.0
    shape_absorption: float = 1.3
    shape_scattering: float = 0.4
    length_absorption: float = 60.0
    length_scattering: float = 80.0
    height_absorption: float = 1.5
    height_scattering: float = 0.6
    strength: float = 0.8
    likeness: float = 0.3
    exponent: float = 0.9
    exponent_spread: float = 0.15
    reference_amount: float = 4.0
    surface: float = 0.025
    inside: float = 0.6
    uneven: float = 0.4
    swatch_doubt: float = 2.5
    mix_doubt: float = 1.25
    swatch_offset: float = 2.0
    tail: float = 4.0
    guessed_wash: float = 0.4
    graded_wash: float = 1.0
    guessed_strength: float = 0.7
    full_strength: float = 0.4
    rough_parts: float = 0.22


@dataclass(frozen=True, slots=True, eq=False)
class Basis:
    """The curves a paint is made of: ``mean`` (62,) and ``curves`` (62, numbers) of log K, then log S."""

    mean: Floats
    curves: Floats

    @property
    def per_paint(self) -> int:
        """How many numbers describe one paint, the exponent included."""
        return self.curves.shape[1] + 1


@lru_cache(maxsize=64)
def basis_of(prior: Prior) -> Basis:
    """Return the leading curves of the prior, as eigenvectors times root eigenvalue of its covariance."""
    values, vectors = np.linalg.eigh(_covariance(prior))
    order = np.argsort(values)[::-1][: prior.numbers]
    curves = vectors[:, order] * np.sqrt(values[order])
    curves *= np.where(curves.sum(axis=0) < 0, -1.0, 1.0)
    mean = np.repeat([prior.mean_absorption, prior.mean_scattering], len(BANDS))
    return Basis(mean, curves)


@lru_cache(maxsize=64)
def centre_of_white(prior: Prior) -> Floats:
    """Return the numbers (numbers + 1,) at which a paint that hardly absorbs is thought to lie.

    Such a paint is sold because it covers: its scattering is raised, in the curves nearest to that.
    """
    basis = basis_of(prior)
    raised = np.repeat([0.0, prior.mean_scattering_white - prior.mean_scattering], len(BANDS))
    return np.append(np.linalg.lstsq(basis.curves, raised)[0], 0.0)


def _covariance(prior: Prior) -> Floats:
    apart = np.abs(BANDS[:, None] - BANDS[None, :])
    a, s = prior.shape_absorption, prior.shape_scattering
    K = a * a * _matern(apart, prior.length_absorption) + prior.height_absorption**2
    S = s * s * _matern(apart, prior.length_scattering) + prior.height_scattering**2
    both = prior.likeness * a * s * _matern(apart, max(prior.length_absorption, prior.length_scattering))
    covariance: Floats = np.block([[K, both], [both.T, S]]) + prior.strength**2
    return covariance


def _matern(apart: Floats, length: float) -> Floats:
    """Matern correlation of order 3/2."""
    scaled = np.sqrt(3.0) * apart / length
    return np.asarray((1 + scaled) * np.exp(-scaled))


@lru_cache(maxsize=16)
def thicknesses(uneven: float) -> tuple[tuple[float, float], ...]:
    """Return (factor, share) of the thicknesses that stand for an uneven wash of mean factor 1."""
    if uneven == 0:
        return ((1.0, 1.0),)
    points, weights = np.polynomial.hermite_e.hermegauss(3)
    factors = np.exp(uneven * points - uneven * uneven / 2)
    return tuple(zip(factors.tolist(), (weights / weights.sum()).tolist(), strict=True))
