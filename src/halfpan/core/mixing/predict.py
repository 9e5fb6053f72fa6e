"""What a recipe will look like when it is painted, and how far that can be trusted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.screen import lab_to_hex, outside_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import BLACK_LINE, Recipe, wash_of
from halfpan.core.mixing.strength import strength_unknown
from halfpan.core.mixing.trust import spread
from halfpan.core.paint.reading import Lab

Floats = NDArray[np.float64]

FULL_STRENGTH = 8.0  # units of a full-strength wash: what "parts" add up to unless said otherwise
LESS_PROVEN_MIX = "three or more paints: less proven"
LESS_PROVEN_GLAZE = "glaze: less proven"
NEVER_SO_STRONG = "far from any amount that was painted"
OUTSIDE_SCREEN = "outside what this screen can show"


@dataclass(frozen=True, slots=True)
class Prediction:
    """A colour to expect.

    ``within_delta_e00`` is the radius that 95 % of painted boxes should fall in. ``screen`` is the nearest
    colour of an sRGB screen. ``contrast_ratio`` is Y over a black line / Y over the paper.
    """

    recipe: Recipe
    lab: Lab
    within_delta_e00: float
    flags: tuple[str, ...]
    screen: str
    outside_screen: float
    contrast_ratio: float


def predict(
    learnt: Learnt,
    recipes: Sequence[Recipe],
    *,
    amount_spread: float = 0.0,
    names: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Prediction, ...]:
    """Predict the colour of each recipe.

    Parameters
    ----------
    learnt : what is known of the paints
    recipes : mixes, ladders or glazes, amounts in the unit of the readings
    amount_spread : how far off the parts may be measured out (natural logarithm; 0.22 is by eye)
    names : what the flags call a paint; one that is not named there goes by its id

    Raises
    ------
    NotLearnt
        A paint of which nothing was read
    """
    learnt.require([p for r in recipes for p in r.paints])
    films = arrange(recipes, learnt.rows, learnt.unit)
    expected = spread(learnt, films, amount_spread=amount_spread)
    within = expected.within()
    over_black = arrange([replace(r, ground=BLACK_LINE) for r in recipes], learnt.rows, learnt.unit)
    Y_black = lab_to_xyz(colours(over_black, learnt.coefficients, learnt.prior))[:, 1]
    contrast = Y_black / np.maximum(lab_to_xyz(expected.lab)[:, 1], 1e-6)
    outside = outside_srgb(expected.lab)
    flags = flags_of(learnt, recipes, names)
    return tuple(
        Prediction(
            recipe=recipe,
            lab=(float(lab[0]), float(lab[1]), float(lab[2])),
            within_delta_e00=float(within[i]),
            flags=(*flags[i], OUTSIDE_SCREEN) if outside[i] > 1 else flags[i],
            screen=str(lab_to_hex(lab)),
            outside_screen=float(outside[i]),
            contrast_ratio=float(contrast[i]),
        )
        for i, (recipe, lab) in enumerate(zip(recipes, expected.lab, strict=True))
    )


def flags_of(learnt: Learnt, recipes: Sequence[Recipe], names: Mapping[str, str]) -> list[tuple[str, ...]]:
    """Return what should be said of each recipe beside its colour."""
    unknown = {p: u.sentence(names.get(p, p)) for p, u in strength_unknown(learnt).items()}
    ranges = _painted_amounts(learnt)
    return [
        tuple(
            [unknown[p] for p in recipe.paints if p in unknown and len(recipe.paints) > 1]
            + ([LESS_PROVEN_MIX] if any(len(w) > 2 for w in recipe.layers) else [])
            + ([LESS_PROVEN_GLAZE] if sum(1 for w in recipe.layers if wash_of(*w)) > 1 else [])
            + ([NEVER_SO_STRONG] if any(_far(wash, ranges) for wash in recipe.layers) else [])
        )
        for recipe in recipes
    ]


def _painted_amounts(learnt: Learnt) -> dict[str, tuple[float, float]]:
    ranges: dict[str, tuple[float, float]] = {}
    for one in learnt.observations:
        for wash in one.recipe.layers:
            total = sum(amount for _, amount in wash)
            for paint, _ in wash:
                low, high = ranges.get(paint, (total, total))
                ranges[paint] = (min(low, total), max(high, total))
    return ranges


def _far(wash: Sequence[tuple[str, float]], ranges: dict[str, tuple[float, float]]) -> bool:
    """Say whether a wash is twice as strong, or half as strong, as anything painted of all its paints."""
    total = sum(amount for _, amount in wash)
    lows, highs = (
        zip(*(ranges[p] for p, amount in wash if amount > 0), strict=True) if total else ((0,), (0,))
    )
    return total > 2 * max(highs) or total < min(lows) / 2


def from_parts(parts: Sequence[tuple[str, float]], total: float) -> tuple[tuple[str, float], ...]:
    """Return a wash of these parts whose amounts add up to ``total``."""
    wash = wash_of(*parts)
    whole = sum(amount for _, amount in wash)
    return tuple((paint, amount * total / whole) for paint, amount in wash)
