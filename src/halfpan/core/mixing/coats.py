"""The colour of films, coat upon coat, and how it moves with the paints and with their amounts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.spaces import D50, xyz_to_lab
from halfpan.core.colour.spectra import BANDS, xyz_weights
from halfpan.core.mixing.film import behind_surface, film_over, film_slopes, through_surface
from halfpan.core.mixing.films import Films
from halfpan.core.mixing.prior import Prior, basis_of, thicknesses

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_SPAN = 12.0  # natural logarithm: no paint is thought weaker or stronger than this
_ROWS = 1024  # worked at once, so that the parts stay in the processor's cache


@dataclass(frozen=True, slots=True, eq=False)
class Slopes:
    """How colours move: by the numbers of the paint in each place, and by the log amount there.

    Shapes (n, layers, places, 3, numbers) and (n, layers, places, 3).
    """

    by_paint: Floats
    by_part: Floats

    @property
    def by_amount(self) -> Floats:
        """Slopes by the log of all amounts of a row together, (n, 3)."""
        return np.asarray(self.by_part.sum(axis=(1, 2)))


def curves_of(coefficients: Floats, prior: Prior) -> tuple[Floats, Floats]:
    """Return absorption and scattering (paints, 31) of one unit of each paint."""
    basis = basis_of(prior)
    logs = np.clip(basis.mean + coefficients[:, :-1] @ basis.curves.T, -_SPAN, _SPAN)
    both = np.exp(logs)
    return both[:, : len(BANDS)], both[:, len(BANDS) :]


def colours(films: Films, coefficients: Floats, prior: Prior) -> Floats:
    """Return the colours, CIELAB (n, 3), of films of paints with these coefficients (paints, numbers)."""
    return xyz_to_lab(spectra(films, coefficients, prior) @ xyz_weights())


def spectra(films: Films, coefficients: Floats, prior: Prior) -> Floats:
    """Return the reflectance (n, 31) of films as it is read."""
    exponents, (K, S) = _exponents(coefficients, prior), curves_of(coefficients, prior)
    read = np.empty((len(films), len(BANDS)))
    for start in range(0, len(films), _ROWS):
        rows = slice(start, start + _ROWS)
        some = films[rows]
        _, thickness = _thicknesses(some, exponents, prior)
        under = behind_surface(some.grounds, prior.surface, prior.inside)
        for layer in range(some.paints.shape[1]):
            shares = _shares(some.paints[:, layer], thickness[:, layer], len(K))
            film_K, film_S = shares @ K, shares @ S
            coats = [w * film_over(t * film_K, t * film_S, under) for t, w in thicknesses(prior.uneven)]
            under = np.sum(coats, axis=0)
        read[rows] = through_surface(under, prior.surface, prior.inside)
    return read


def colours_and_slopes(
    films: Films,
    coefficients: Floats,
    prior: Prior,
    log_amount: Floats | None = None,
    *,
    of_paints: bool = True,
) -> tuple[Floats, Slopes]:
    """Return colours (n, 3) and their slopes; ``log_amount`` (n,) scales every amount of a row.

    Without ``of_paints`` only the slopes by amount are worked out, those by the numbers of paints stay 0.
    """
    coats = _Coats(films, coefficients, prior, log_amount)
    xyz = coats.read @ xyz_weights()
    by_read = lab_slopes(xyz) @ xyz_weights().T
    return xyz_to_lab(xyz), coats.slopes(by_read, basis_of(prior).curves if of_paints else None)


def slopes_of_additions(films: Films, coefficients: Floats, prior: Prior) -> Floats:
    """Return how colours would move by a little of each paint in the uppermost layer, (n, 3, paints)."""
    coats = _Coats(films, coefficients, prior, None)
    by_read = lab_slopes(coats.read @ xyz_weights()) @ xyz_weights().T * coats.through()[:, None, :]
    by_K, by_S = by_read * coats.by_K[-1][:, None, :], by_read * coats.by_S[-1][:, None, :]
    return by_K @ coats.K.T + by_S @ coats.S.T


def _exponents(coefficients: Floats, prior: Prior) -> Floats:
    return np.asarray(prior.exponent * np.exp(prior.exponent_spread * coefficients[:, -1]))


def _thicknesses(
    films: Films, exponents: Floats, prior: Prior, log_amount: Floats | None = None
) -> tuple[Floats, Floats]:
    """Return log amounts over the reference, and thicknesses, each (n, layers, places)."""
    some = films.amounts > 0
    logs = np.log(np.where(some, films.amounts / prior.reference_amount, 1.0))
    if log_amount is not None:
        logs = logs + log_amount[:, None, None]
    thick = prior.reference_amount * np.exp(exponents[films.paints] * logs)
    return logs, np.where(some, thick, 0.0)


def _shares(paints: Ints, thickness: Floats, count: int) -> Floats:
    """Spread one layer's thicknesses (n, places) over all paints (n, count)."""
    shares = np.zeros((len(paints), count))
    rows = np.arange(len(paints))
    for place in range(paints.shape[1]):
        shares[rows, paints[:, place]] += thickness[:, place]
    return shares


class _Coats:
    """Films of one set of coefficients, keeping what the slopes need."""

    def __init__(self, films: Films, coefficients: Floats, prior: Prior, log_amount: Floats | None) -> None:
        self.films, self.prior = films, prior
        self.exponents = _exponents(coefficients, prior)
        self.K, self.S = curves_of(coefficients, prior)
        self.log_amounts, self.thickness = _thicknesses(films, self.exponents, prior, log_amount)
        self.by_K: list[Floats] = []
        self.by_S: list[Floats] = []
        self.by_ground: list[Floats] = []
        self.under = behind_surface(films.grounds, prior.surface, prior.inside)
        for layer in range(films.paints.shape[1]):
            self.under = self._coat(layer)
        self.read = through_surface(self.under, prior.surface, prior.inside)

    def _coat(self, layer: int) -> Floats:
        """Lay one layer and keep its slopes."""
        shares = _shares(self.films.paints[:, layer], self.thickness[:, layer], len(self.K))
        K, S = shares @ self.K, shares @ self.S
        sums = [np.zeros_like(K) for _ in range(4)]
        for factor, share in thicknesses(self.prior.uneven):
            R, by_K, by_S, by_ground = film_slopes(factor * K, factor * S, self.under)
            sums[0] += share * R
            sums[1] += share * factor * by_K
            sums[2] += share * factor * by_S
            sums[3] += share * by_ground
        for kept, found in zip((self.by_K, self.by_S, self.by_ground), sums[1:], strict=True):
            kept.append(found)
        return np.clip(sums[0], 0.0, 1.0)

    def through(self) -> Floats:
        """Return the slope of the reflectance read by the one inside, (n, 31)."""
        k1, k2 = self.prior.surface, self.prior.inside
        return (1 - k1) * (1 - k2) / (1 - k2 * self.under) ** 2

    def slopes(self, by_read: Floats, curves: Floats | None) -> Slopes:
        """Chain slopes of some channels by the reflectance read, (n, channels, 31), down to the paints."""
        by_layer = by_read * self.through()[:, None, :]
        shape = (*self.films.paints.shape, by_read.shape[1])
        numbers = 0 if curves is None else curves.shape[1] + 1
        slopes = Slopes(np.zeros((*shape, numbers)), np.zeros(shape))
        for layer in reversed(range(shape[1])):
            by_K, by_S = (by_layer * by[layer][:, None, :] for by in (self.by_K, self.by_S))
            self._by_part(layer, (by_K, by_S), slopes)
            if curves is not None:
                self._by_paint(layer, np.concatenate([by_K, by_S], axis=-1), curves, slopes)
            by_layer = by_layer * self.by_ground[layer][:, None, :]
        return slopes

    def _by_part(self, layer: int, by_film: tuple[Floats, Floats], slopes: Slopes) -> None:
        """Fill in the slopes of one layer by the log amount of each place."""
        by_K, by_S = by_film
        for place in range(self.films.paints.shape[2]):
            paints = self.films.paints[:, layer, place]
            by = np.matmul(by_K, self.K[paints][:, :, None]) + np.matmul(by_S, self.S[paints][:, :, None])
            bent = self.exponents[paints] * self.thickness[:, layer, place]
            slopes.by_part[:, layer, place] = by[:, :, 0] * bent[:, None]

    def _by_paint(self, layer: int, by_film: Floats, curves: Floats, slopes: Slopes) -> None:
        """Fill in the slopes of one layer by the numbers of the paint in each place."""
        paints, thickness = self.films.paints[:, layer], self.thickness[:, layer]
        for p in np.unique(paints[thickness > 0]):
            one = np.concatenate([self.K[p], self.S[p]])
            rows, place = np.nonzero((paints == p) & (thickness > 0))
            local = (by_film[rows] @ (one[:, None] * curves)) * thickness[rows, place][:, None, None]
            slopes.by_paint[rows, layer, place, :, :-1] = local
        bend = self.prior.exponent_spread * self.log_amounts[:, layer]
        slopes.by_paint[:, layer, :, :, -1] = slopes.by_part[:, layer] * bend[..., None]


def lab_slopes(xyz: Floats) -> Floats:
    """Return the slopes of CIELAB by XYZ, (n, 3, 3)."""
    ratio = xyz / D50
    slope = np.where(ratio > 216 / 24389, np.maximum(ratio, 1e-12) ** (-2 / 3) / 3, 24389 / 27 / 116) / D50
    by = np.zeros((len(xyz), 3, 3))
    by[:, 0, 1] = 116 * slope[:, 1]
    by[:, 1, 0], by[:, 1, 1] = 500 * slope[:, 0], -500 * slope[:, 1]
    by[:, 2, 1], by[:, 2, 2] = 200 * slope[:, 1], -200 * slope[:, 2]
    return by
