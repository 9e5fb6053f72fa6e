"""What has been learnt of a painter's paints, with its doubt, from all that was painted and read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

import numpy as np
from numpy.typing import NDArray

from halfpan.core.mixing.fitting import set_task, solve
from halfpan.core.mixing.observation import Observation
from halfpan.core.mixing.prior import Prior, basis_of
from halfpan.errors import NotLearnt

Floats = NDArray[np.float64]

MODEL = "two-constant film 1"  # changes whenever the same readings would give other numbers


@dataclass(frozen=True, slots=True, eq=False)
class Together:
    """Paints that were found together: which, the covariance of their numbers, the mark of their readings."""

    members: tuple[int, ...]
    covariance: Floats
    mark: str


@dataclass(frozen=True, slots=True, eq=False)
class Learnt:
    """Paints as found from readings: ``coefficients`` (paints, numbers), ``unit`` the amount counted as 1."""

    paints: tuple[str, ...]
    coefficients: Floats
    groups: tuple[Together, ...]
    observations: tuple[Observation, ...]
    unit: float
    prior: Prior
    model: str = MODEL

    @property
    def rows(self) -> dict[str, int]:
        """Where each paint stands."""
        return {paint: i for i, paint in enumerate(self.paints)}

    def require(self, paints: Sequence[str]) -> None:
        """Refuse paints nothing was read of."""
        missing = [p for p in dict.fromkeys(paints) if p not in self.rows]
        if missing:
            raise NotLearnt(
                f"Nothing was read of {', '.join(missing)}: "
                "read a swatch of it, or add a measured one, then let Halfpan learn again."
            )

    def covariance(self, paints: Sequence[int]) -> Floats:
        """Return the joint covariance (numbers of all, square) of some paints, in the order given."""
        per_paint = self.coefficients.shape[1]
        place: dict[int, tuple[int, int]] = {}
        for g, group in enumerate(self.groups):
            place.update({p: (g, i) for i, p in enumerate(group.members)})
        size = len(paints) * per_paint
        joint = np.zeros((size, size))
        for g in {place[p][0] for p in paints}:
            here = [i for i, p in enumerate(paints) if place[p][0] == g]
            there = [place[paints[i]][1] for i in here]
            to, source = _numbers_of(here, per_paint), _numbers_of(there, per_paint)
            joint[np.ix_(to, to)] = self.groups[g].covariance[np.ix_(source, source)]
        return joint


def _numbers_of(paints: Sequence[int], per_paint: int) -> NDArray[np.int64]:
    return np.add.outer(np.asarray(paints) * per_paint, np.arange(per_paint)).ravel()


def learn(
    observations: Sequence[Observation],
    *,
    prior: Prior | None = None,
    unit: float | None = None,
    known: Learnt | None = None,
    start: Learnt | None = None,
) -> Learnt:
    """Find every paint from everything read, all paints that were ever mixed together at once.

    Parameters
    ----------
    observations : the films painted and read; films of nothing are left out
    prior : settings of the model
    unit : the amount counted as 1; the weakest known swatch when not given
    known : an earlier answer, taken over as it is for paints of which nothing new was read
    start : an earlier answer to begin the search at: sooner at its end, which then differs a little

    Returns
    -------
    Learnt
    """
    seen = tuple(o for o in observations if o.recipe.paints)
    prior = prior or Prior()
    unit = unit or weakest_swatch(seen)
    paints = tuple(sorted({p for o in seen for p in o.recipe.paints}))
    rows = {paint: i for i, paint in enumerate(paints)}
    held = {group.mark: group for group in known.groups} if known else {}
    coefficients = np.zeros((len(paints), basis_of(prior).per_paint))
    groups: list[Together] = []
    for members, films in _found_together(seen):
        here, mark = tuple(rows[m] for m in members), _mark(films, prior, unit)
        if known and mark in held:
            coefficients[list(here)] = known.coefficients[list(held[mark].members)]
            covariance = held[mark].covariance
        else:
            fit = solve(set_task(films, members, unit=unit, prior=prior), _begin(start, members, unit))
            coefficients[list(here)], covariance = fit.coefficients, fit.covariance
        groups.append(Together(here, covariance, mark))
    return Learnt(paints, coefficients, tuple(groups), seen, unit, prior)


def _mark(films: Sequence[Observation], prior: Prior, unit: float) -> str:
    """Return the mark of everything the numbers of a group depend on."""
    return sha256(repr((MODEL, prior, unit, films)).encode()).hexdigest()


def weakest_swatch(observations: Sequence[Observation]) -> float:
    """Return the smallest amount of a swatch of one paint, of any film where there is none, or 1."""

    def totals(*, single: bool) -> list[float]:
        sums = (
            sum(amount for wash in o.recipe.layers for _, amount in wash)
            for o in observations
            if o.amounts in {"known", "rough"} and (o.single or not single)
        )
        return [total for total in sums if total > 0]

    return min(totals(single=True) or totals(single=False) or [1.0])


def _begin(start: Learnt | None, members: Sequence[str], unit: float) -> Floats | None:
    if start is None or start.unit != unit or start.model != MODEL:
        return None
    rows: Mapping[str, int] = start.rows
    begin = np.zeros((len(members), start.coefficients.shape[1]))
    for i, paint in enumerate(members):
        if paint in rows:
            begin[i] = start.coefficients[rows[paint]]
    return begin


def _found_together(
    observations: Sequence[Observation],
) -> list[tuple[tuple[str, ...], tuple[Observation, ...]]]:
    """Return groups of paints that meet in some film, directly or by way of others, with their films."""
    leader: dict[str, str] = {}

    def first(paint: str) -> str:
        while leader.setdefault(paint, paint) != paint:
            paint = leader[paint]
        return paint

    for one in observations:
        paints = one.recipe.paints
        for other in paints[1:]:
            leader[first(other)] = first(paints[0])
    members: dict[str, set[str]] = {}
    films: dict[str, list[Observation]] = {}
    for one in observations:
        key = first(one.recipe.paints[0])
        members.setdefault(key, set()).update(one.recipe.paints)
        films.setdefault(key, []).append(one)
    return sorted((tuple(sorted(members[key])), tuple(films[key])) for key in members)
