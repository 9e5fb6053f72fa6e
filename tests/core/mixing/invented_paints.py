"""Three invented paints with known curves, and washes of them read without error or with it."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np

from halfpan.core.colour.difference import metric_2000
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.observation import Observation, Recipe
from halfpan.core.mixing.prior import Prior, basis_of

PAINTS = ("blue", "rose", "yellow")
ROWS = {paint: i for i, paint in enumerate(PAINTS)}
PRIOR = Prior()


def truth(seed: int = 1) -> np.ndarray:
    return np.random.default_rng(seed).normal(scale=0.8, size=(3, basis_of(PRIOR).per_paint))


def read(recipes, seed=1, *, occasion="", noise=0.0, **more):
    """Return the films of the true paints, read with CIEDE2000 noise (standard deviation of each axis)."""
    labs = colours(arrange(recipes, ROWS, 1.0), truth(seed), PRIOR)
    rng = np.random.default_rng(seed + 100)
    steps = np.linalg.solve(metric_2000(labs), rng.normal(size=(*labs.shape, 1)))[..., 0] * noise
    return [
        Observation(recipe, tuple(lab.tolist()), occasion=occasion, box=f"{occasion}{i}", **more)
        for i, (recipe, lab) in enumerate(zip(recipes, labs + steps, strict=True))
    ]


def mix(*parts) -> Recipe:
    return Recipe((tuple(parts),))


def ladders(steps=(1.0, 3.0, 9.0)) -> list[Recipe]:
    return [mix((paint, step)) for paint in PAINTS for step in steps]


def pairs(steps=((1, 1), (1, 2), (2, 1), (4, 4), (4, 8), (8, 4))) -> list[Recipe]:
    return [mix((a, float(m)), (b, float(n))) for a, b in combinations(PAINTS, 2) for m, n in steps]


def over_black(recipes):
    return [replace(r, ground=(22.0, 0.0, 0.0)) for r in recipes]
