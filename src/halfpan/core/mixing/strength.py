"""Whether the strength and the cover of a paint can be known at all from what was read of it.

A swatch that hides the paper at every step looks the same at twice the strength; white on white paper shows
nothing of its cover. Both are said, with the one box that would settle it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.fitting import HARDLY_SHOWS
from halfpan.core.mixing.ground import is_light
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import PLAIN_PAPER, Recipe
from halfpan.core.mixing.plan import every_pair
from halfpan.core.mixing.prior import basis_of
from halfpan.core.mixing.trust import whitened_slopes

Floats = NDArray[np.float64]

_NEARLY_BLACK = 0.02

Reason = Literal["opaque at every step", "white on white", "amounts unknown"]


@dataclass(frozen=True, slots=True)
class StrengthUnknown:
    """A paint whose strength its readings cannot tell; ``settles`` is the box that would."""

    paint: str
    reason: Reason
    settles: Recipe | None = None

    def sentence(self, name: str = "") -> str:
        """Say it plainly, of the paint by a name where one is given."""
        what = {
            "opaque at every step": "its swatches hide the paper at every step",
            "white on white": "it hardly shows on white paper",
            "amounts unknown": "how much was painted is only guessed",
        }[self.reason]
        return f"strength of {name or self.paint} unknown: {what}"


def strength_unknown(learnt: Learnt, *, settle: bool = False) -> dict[str, StrengthUnknown]:
    """Return the paints whose strength is not to be known from the readings, with the reason.

    Parameters
    ----------
    learnt : what is known
    settle : look for the one box that would tell most about it, too; guessed amounts are settled by any mix
    """
    mixed = {p for o in learnt.observations if not o.single for p in o.recipe.paints}
    found: dict[str, StrengthUnknown] = {}
    for paint in learnt.paints:
        reason = None if paint in mixed else _reason(learnt, paint)
        if reason:
            box = settling_box(learnt, paint) if settle and reason != "amounts unknown" else None
            found[paint] = StrengthUnknown(paint, reason, box)
    return found


def _reason(learnt: Learnt, paint: str) -> Reason | None:
    swatches = [o for o in learnt.observations if o.single and o.recipe.paints[0] == paint]
    if not swatches:
        return "amounts unknown"
    papers = [o.recipe for o in swatches if is_light(o.recipe.ground)]
    covered = len(papers) < len(swatches)
    washes = sorted(papers or [o.recipe for o in swatches], key=_total)
    black = (_NEARLY_BLACK,) * 31
    weakest, strongest = washes[0], washes[-1]
    films = arrange(
        [Recipe(weakest.layers, PLAIN_PAPER), Recipe(weakest.layers, black), strongest],
        learnt.rows,
        learnt.unit,
    )
    over_white, over_black, fullest = colours(films, learnt.coefficients, learnt.prior)
    bare = _bare(learnt, strongest)
    if float(delta_e_2000(over_white, over_black)) < HARDLY_SHOWS:
        return "opaque at every step"
    if not covered and float(delta_e_2000(fullest, bare)) < HARDLY_SHOWS:
        return "white on white"
    if all(o.amounts not in {"known", "rough"} for o in swatches):
        return "amounts unknown"
    return None


def _total(recipe: Recipe) -> float:
    return sum(amount for wash in recipe.layers for _, amount in wash)


def _bare(learnt: Learnt, recipe: Recipe) -> Floats:
    nothing = Recipe(((),), recipe.ground)
    return colours(arrange([nothing], learnt.rows, learnt.unit), learnt.coefficients, learnt.prior)[0]


def settling_box(learnt: Learnt, paint: str, others: Sequence[str] | None = None) -> Recipe | None:
    """Return the one mix of two that would tell most about the strength of a paint; none without a second."""
    others = [p for p in (others or learnt.paints) if p != paint]
    boxes = [r for other in others for r in every_pair([paint, other], learnt)]
    if not boxes:
        return None
    films = arrange(boxes, learnt.rows, learnt.unit)
    _, slopes, _ = whitened_slopes(learnt, films)
    direction = np.append(basis_of(learnt.prior).curves.mean(axis=0), 0.0)
    noise = learnt.prior.mix_doubt**2 * np.eye(3)
    gains = []
    for J, paints in zip(slopes, films.paints.reshape(len(boxes), -1), strict=True):
        covariance = learnt.covariance(paints.tolist())
        at = np.concatenate([direction * (p == learnt.rows[paint]) for p in paints])
        seen = J @ covariance
        toward = seen @ at
        gains.append(toward @ np.linalg.solve(seen @ J.T + noise, toward))
    return boxes[int(np.argmax(gains))]
