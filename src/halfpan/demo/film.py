"""A painted film: what one full-strength wash takes and throws back, at any load, over any ground.

Load 1 is full strength; loads add. The surface of dry paint and paper throws back a little light of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.mixing.film import behind_surface, film_over, through_surface

Array = NDArray[np.float64]

SURFACE = 0.02  # share thrown back before the light enters; dry, matt paint (from memory)
INSIDE = 0.6  # share thrown back on the way out; diffuse light leaving a medium of index 1.5 (from memory)


@dataclass(frozen=True, slots=True, eq=False)
class Film:
    """Absorption and scattering, shape (31,), of one full-strength layer, and how it lies on the paper."""

    absorption: Array
    scattering: Array
    grain: float = 0.0
    staining: float = 0.5
    flow: float = 0.5


def film_at(film: Film, load: ArrayLike, ground: ArrayLike) -> Array:
    """Return the reflectance, shape (..., 31), of a film laid at some loads over a ground.

    Parameters
    ----------
    film : Film
    load : array, shape (...), 1 is full strength, 0 leaves the ground as it is
    ground : array, shape (31,), reflectance of what lies under the film, as read from outside
    """
    load = np.asarray(load, dtype=np.float64)[..., None]
    inner = behind_surface(ground, SURFACE, INSIDE)
    laid = film_over(load * film.absorption, load * film.scattering, inner)
    return through_surface(laid, SURFACE, INSIDE)


def mix_films(films: Sequence[Film], parts: Sequence[float]) -> Film:
    """Return the film of several paints stirred together; each part is a share of its full strength."""
    share = np.asarray(parts, dtype=np.float64)
    weight = share / share.sum()
    return Film(
        np.sum([p * f.absorption for p, f in zip(share, films, strict=True)], axis=0),
        np.sum([p * f.scattering for p, f in zip(share, films, strict=True)], axis=0),
        grain=float(sum(w * f.grain for w, f in zip(weight, films, strict=True))),
        staining=float(sum(w * f.staining for w, f in zip(weight, films, strict=True))),
        flow=float(sum(w * f.flow for w, f in zip(weight, films, strict=True))),
    )
