"""The nearest mixes to a colour, in whole parts a painter can measure.

Pairs are all tried. Three and four paints grow from the best of the smaller mixes by the paint that would
help most, so that a whole studio is searched in a moment.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import gcd
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import delta_e_2000, metric_2000
from halfpan.core.mixing.coats import slopes_of_additions
from halfpan.core.mixing.films import Films
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.near import Near, approach
from halfpan.core.mixing.observation import PLAIN_PAPER, Observation, Recipe, Wash
from halfpan.core.mixing.predict import FULL_STRENGTH, Prediction, predict
from halfpan.core.paint.reading import Lab

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

MOST_PARTS = 8
_JUST_VISIBLE = 2.0  # dE00, common practice: nearer than this is a match at arm's length
_GROWN = 500  # how many larger mixes are looked into
_ROUNDED = 150  # how many are brought to whole parts
_MOST_PAINTS = 4

Verdict = Literal["reached", "perhaps", "not reachable"]


@dataclass(frozen=True, slots=True)
class Match:
    """A mix in whole parts and how near it comes.

    ``strength`` is that of the wash, 1 being full. ``verdict`` is "reached" within 2 dE00, "perhaps" when
    the colour lies inside the 95 % radius, else "not reachable" by this mix.
    """

    parts: tuple[tuple[str, int], ...]
    strength: float
    prediction: Prediction
    apart: float
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Painted:
    """A box that was painted already, and how far its reading lies from the colour: proof, not prediction."""

    observation: Observation
    apart: float


@dataclass(frozen=True, slots=True)
class _Whole:
    """A mix in whole parts: paints by number, parts, units of the whole wash, and its miss."""

    paints: tuple[int, ...]
    parts: tuple[int, ...]
    units: float
    apart: float

    def wash(self, learnt: Learnt) -> Wash:
        """Return the wash in the unit of the readings."""
        part = self.units * learnt.unit / sum(self.parts)
        return tuple((learnt.paints[p], n * part) for p, n in zip(self.paints, self.parts, strict=True))


def match_colour(
    learnt: Learnt,
    lab: Lab,
    paints: Sequence[str],
    *,
    most: int = 3,
    ground: Lab = PLAIN_PAPER,
    count: int = 12,
) -> tuple[Match, ...]:
    """Find the nearest mixes of 1 to ``most`` (at most 4) of the listed paints, best first.

    Ranked by the error to be expected when painted: the miss and the doubt together.
    """
    learnt.require(paints)
    rows = np.array([learnt.rows[p] for p in paints], dtype=np.int64)
    target, paper = np.array(lab), ground_reflectance(ground)
    found = [_singles(learnt, rows, target, paper)]
    if most > 1 and len(rows) > 1:
        found.append(_pairs(learnt, rows, target, paper))
    for _ in range(2, min(most, _MOST_PAINTS, len(rows))):
        found.append(_grow(learnt, found[-1], rows, (target, paper)))
    whole = [m for near in found for m in _whole_parts(learnt, near.best(_ROUNDED), (target, paper))]
    return _rank(learnt, whole, (lab, ground), count)


def _singles(learnt: Learnt, rows: Ints, target: Floats, paper: Floats) -> Near:
    paints = np.repeat(rows, 2)[:, None]
    amounts = np.tile([0.7, 6.0], len(rows))[:, None]
    return approach(learnt, target, paper, paints=paints, amounts=amounts)


def _pairs(learnt: Learnt, rows: Ints, target: Floats, paper: Floats) -> Near:
    paints = np.array(list(combinations(rows.tolist(), 2)), dtype=np.int64)
    begun = [
        approach(learnt, target, paper, paints=paints, amounts=np.tile(start, (len(paints), 1)), rounds=6)
        for start in ([3.0, 1.0], [1.0, 3.0])
    ]
    first = begun[0].apart <= begun[1].apart
    amounts = np.where(first[:, None], begun[0].amounts, begun[1].amounts)
    return approach(learnt, target, paper, paints=paints, amounts=amounts, rounds=4)


def _grow(learnt: Learnt, small: Near, rows: Ints, aim: tuple[Floats, Floats]) -> Near:
    """Add to each mix the paint that promises most, and keep the most promising."""
    target, paper = aim
    W = metric_2000(target)
    grounds = np.broadcast_to(paper, (len(small.paints), len(paper)))
    films = Films(small.paints[:, None, :], small.amounts[:, None, :], grounds)
    slopes = W @ slopes_of_additions(films, learnt.coefficients, learnt.prior)[:, :, rows]
    total = small.amounts.sum(axis=1)[:, None]
    toward = -np.einsum("nci,nc->ni", slopes, small.miss) * total
    size = np.sum(slopes**2, axis=1) * total**2
    gain = np.maximum(toward, 0) ** 2 / (size + 4.0)
    left = small.apart[:, None] ** 2 - gain
    left[(small.paints[:, :, None] == rows).any(axis=1)] = np.inf
    seen: set[tuple[int, ...]] = set()
    sets: list[tuple[int, ...]] = []
    amounts: list[tuple[float, ...]] = []
    for index in np.argsort(left, axis=None, kind="stable"):
        i, j = divmod(int(index), len(rows))
        if not np.isfinite(left[i, j]) or len(sets) == _GROWN:
            break
        added = (*small.paints[i].tolist(), int(rows[j]))
        if (key := tuple(sorted(added))) not in seen:
            seen.add(key)
            sets.append(added)
            share = np.clip(toward[i, j] / (size[i, j] + 4.0), 0.1, 1.0)
            amounts.append((*small.amounts[i].tolist(), float(share * total[i, 0])))
    return approach(learnt, target, paper, paints=np.array(sets), amounts=np.array(amounts), rounds=12)


def _whole_parts(learnt: Learnt, near: Near, aim: tuple[Floats, Floats]) -> list[_Whole]:
    """Bring mixes to whole parts, the strength of the wash found anew for each."""
    target, paper = aim
    sets: list[list[int]] = []
    parts: list[tuple[int, ...]] = []
    for paints, amounts in zip(near.paints.tolist(), near.amounts, strict=True):
        for whole in dict.fromkeys(_roundings(amounts)):
            sets.append(paints)
            parts.append(whole)
    starts = np.array(parts, dtype=np.float64)
    starts *= near.amounts.sum() / starts.sum()
    found = approach(
        learnt, target, paper, paints=np.array(sets), amounts=starts, rounds=8, only_strength=True
    )
    apart, units = delta_e_2000(found.lab, target), found.amounts.sum(axis=1)
    return [
        _Whole(tuple(s), p, float(u), float(a)) for s, p, u, a in zip(sets, parts, units, apart, strict=True)
    ]


def _roundings(amounts: Floats) -> list[tuple[int, ...]]:
    """Return whole parts near these amounts, from 1 to 8, without a common divisor."""
    ratios = amounts / amounts.max()
    rounded = []
    for most in range(1, MOST_PARTS + 1):
        parts = tuple(max(1, round(float(r) * most)) for r in ratios)
        divisor = gcd(*parts)
        rounded.append(tuple(p // divisor for p in parts))
    return rounded


def _rank(learnt: Learnt, whole: list[_Whole], aim: tuple[Lab, Lab], count: int) -> tuple[Match, ...]:
    """Keep the nearest of each set of paints, give radius and verdict, sort by the expected error."""
    lab, ground = aim
    nearest: dict[tuple[int, ...], _Whole] = {}
    for one in sorted(whole, key=lambda w: (w.apart, sum(w.parts))):
        nearest.setdefault(tuple(sorted(one.paints)), one)
    kept = list(nearest.values())[: 6 * count]
    predictions = predict(learnt, [Recipe((one.wash(learnt),), ground) for one in kept])
    matches = [_match(learnt, one, told, lab) for one, told in zip(kept, predictions, strict=True)]
    return tuple(sorted(matches, key=_expected_error)[:count])


def _match(learnt: Learnt, whole: _Whole, prediction: Prediction, lab: Lab) -> Match:
    apart = float(delta_e_2000(prediction.lab, lab))
    parts = zip((learnt.paints[p] for p in whole.paints), whole.parts, strict=True)
    return Match(
        parts=tuple(sorted(parts, key=lambda part: -part[1])),
        strength=whole.units / FULL_STRENGTH,
        prediction=prediction,
        apart=apart,
        verdict=_verdict(apart, prediction.within_delta_e00),
    )


def _expected_error(match: Match) -> tuple[float, int]:
    return float(np.hypot(match.apart, match.prediction.within_delta_e00 / 2)), len(match.parts)


def _verdict(apart: float, within: float) -> Verdict:
    if apart <= _JUST_VISIBLE:
        return "reached"
    return "perhaps" if apart <= within else "not reachable"


def painted_near(observations: Sequence[Observation], lab: Lab, count: int = 5) -> tuple[Painted, ...]:
    """Return the painted mixes and swatches whose reading lies nearest to a colour."""
    if not observations:
        return ()
    apart = delta_e_2000(np.array([o.lab for o in observations]), np.array(lab))
    order = np.argsort(apart, kind="stable")[:count]
    return tuple(Painted(observations[i], float(apart[i])) for i in order)
