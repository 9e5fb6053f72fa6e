"""What was painted and what was read: the values the model of mixes learns from and is asked about.

Amounts are in any one unit the painter keeps to (millilitres, brush loads, parts); only their ratios and
their common scale matter. Colours are CIELAB, D50, 2 degree.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from halfpan.core.paint.reading import Lab

PLAIN_PAPER: Lab = (95.5, 0.0, 1.0)  # common practice for bright watercolour paper, no source
BLACK_LINE: Lab = (22.0, 0.0, 0.0)  # printed black under a wash, common practice, no source

Wash = tuple[tuple[str, float], ...]
"""One wash: paints with their amounts, in any order."""

Amounts = Literal["known", "rough", "unknown", "full", "graded"]


@dataclass(frozen=True, slots=True)
class Recipe:
    """What to lay on a ground: one wash, or several dry layers from the lowest to the uppermost."""

    layers: tuple[Wash, ...]
    ground: Lab | tuple[float, ...] = PLAIN_PAPER

    @property
    def paints(self) -> tuple[str, ...]:
        """Every paint of the recipe once, in order of appearance, those of amount 0 left out."""
        return tuple(dict.fromkeys(paint for wash in self.layers for paint, amount in wash if amount > 0))


@dataclass(frozen=True, slots=True)
class Observation:
    """One painted film and the colour it was read as.

    Attributes
    ----------
    recipe : Recipe
        What was painted; the ground is the paper or the black line, as colour or 31 band reflectance
    lab : Lab
        The colour read
    reflectance : tuple of 31 floats, optional
        The spectrum, where an instrument gave one
    amounts : {"known", "rough", "unknown", "full", "graded"}
        How far the amounts can be trusted: measured out, by eye within a quarter, only guessed, a wash as
        strong as the paint is used, or some point of a stroke that thins out from there
    within_delta_e00 : float
        95 % radius of the reading
    occasion : str
        What was painted in one go; swatches of one occasion share their paint's offset
    wash : str
        Films of one brushful (masstone over paper and over the black line) share their unknown amount
    box : str
        Where it is found again
    """

    recipe: Recipe
    lab: Lab
    reflectance: tuple[float, ...] | None = None
    amounts: Amounts = "known"
    within_delta_e00: float = 0.0
    occasion: str = ""
    wash: str = ""
    box: str = ""

    @property
    def single(self) -> bool:
        """Say whether one paint alone was painted."""
        return len(self.recipe.paints) == 1


def wash_of(*parts: tuple[str, float]) -> Wash:
    """Return a wash with like paints added together, nothing kept of amount 0."""
    total: dict[str, float] = {}
    for paint, amount in parts:
        if amount > 0:
            total[paint] = total.get(paint, 0.0) + amount
    return tuple(total.items())
