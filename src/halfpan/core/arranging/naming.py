"""What is this? Pigments ranked for a paint without codes, by how known paints of them look here.

A look is no analysis: many pigments share one, and a mixture can imitate any. The answer is a ranking with
its spread, in which "none of these" has its own share.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.order import Family, OrderRule, place
from halfpan.core.arranging.painted import Painted, apart, colours
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.index import pigments

Array = NDArray[np.float64]

_NONE_OF_THESE = 2.5
_ENOUGH = 24


@dataclass(frozen=True, slots=True)
class Guess:
    """One pigment: the nearest paint of it here, how far, of how many known, and its share of the belief."""

    code: str
    nearest: str
    distance: float
    known: int
    share: float


@dataclass(frozen=True, slots=True)
class Named:
    """The ranking, the share of none of these, and the family's pigments of which no paint is known here."""

    paint: str
    guesses: tuple[Guess, ...]
    none_of_these: float
    spread: float
    unseen: tuple[str, ...]
    sentence: str


def name_pigment(
    unknown: Painted, collection: Sequence[Painted], repeat: Repeatability, *, most: int = 6
) -> Named:
    """Rank the pigments that a painted and read paint may be made of.

    Notes
    -----
    Each pigment is as far away as the nearest single-pigment paint of it. The spread of a pigment (how far
    one paint of it lies from the next) is taken over all pigments with several paints here (of many paints,
    24 to 48 are looked at), and is at least the painter's repeatability. Belief falls as exp(-d^2 / 2 s^2);
    "none of these" stands at 2.5 spreads, Halfpan's own choice. Shares are beliefs among the single pigments
    seen here, no probabilities of chemistry.
    """
    known = [one for one in collection if len(set(one.paint.codes)) == 1 and one.paint.id != unknown.paint.id]
    far = apart(colours([unknown])[0], colours(known))
    best: dict[str, tuple[float, str, int]] = {}
    for one, distance in zip(known, far, strict=True):
        code = one.paint.codes[0]
        before = best.get(code, (np.inf, "", 0))
        count = before[2] + bool(np.isfinite(distance))
        nearer = (float(distance), one.paint.id) if distance < before[0] else before[:2]
        best[code] = (*nearer, count)
    seen = {code: found for code, found in best.items() if np.isfinite(found[0])}
    family = place(unknown, OrderRule()).family
    unseen = tuple(code for code in _of_family(family) if code not in seen)
    if not seen:
        told = "Nothing can be ranked: this paint, or every single-pigment paint here, is not read yet."
        return Named(unknown.paint.id, (), 1.0, float(repeat.limits().max()), unseen, told)
    spread = _spread(known, repeat)
    belief = {code: np.exp(-0.5 * (found[0] / spread) ** 2) for code, found in seen.items()}
    whole = sum(belief.values()) + np.exp(-0.5 * _NONE_OF_THESE**2)
    ranked = sorted(seen, key=lambda code: seen[code][0])[:most]
    guesses = tuple(Guess(c, seen[c][1], seen[c][0], seen[c][2], float(belief[c] / whole)) for c in ranked)
    none = float(np.exp(-0.5 * _NONE_OF_THESE**2) / whole)
    return Named(unknown.paint.id, guesses, none, spread, unseen, _sentence(guesses, none, spread))


def _spread(known: Sequence[Painted], repeat: Repeatability) -> float:
    groups: dict[str, list[Painted]] = {}
    for one in known:
        groups.setdefault(one.paint.codes[0], []).append(one)
    steps = []
    for members in groups.values():
        if len(members) > 1:
            labs = colours(members[:: max(1, len(members) // _ENOUGH)])
            each = apart(labs[:, None], labs[None])
            np.fill_diagonal(each, np.inf)
            steps += [float(step) for step in each.min(axis=1) if np.isfinite(step)]
    least = float(repeat.limits().max())
    return max(least, float(np.median(steps))) if steps else least


def _of_family(family: Family) -> list[str]:
    return [code for code, found in pigments().items() if found.group == family]


def _sentence(guesses: Sequence[Guess], none: float, spread: float) -> str:
    near = [guess for guess in guesses if guess.distance <= spread]
    if not near or none > 0.5:
        return (
            f"No single pigment known here looks like it (nearest ΔE {guesses[0].distance:.1f}). A mixture?"
        )
    if len(near) == 1:
        told = f"{near[0].code} looks most like it (ΔE {near[0].distance:.1f})"
    else:
        told = f"{', '.join(guess.code for guess in near)} look like it and cannot be told apart"
    return (
        f"{told}; paints of one pigment lie about ΔE {spread:.1f} apart here. A mixture could look the same."
    )
