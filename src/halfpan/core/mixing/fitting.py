"""All paints that were ever mixed with one another, found together from everything that was read of them.

Maximum a posteriori by Gauss and Newton with Levenberg's damping. Misfit is counted in CIEDE2000 units with
the long tail of Student's t, so that one swapped box cannot drag a paint away; the priors are unit normal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve
from scipy.sparse import coo_array

from halfpan.core.colour.difference import delta_e_2000, metric_2000
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.coats import colours_and_slopes
from halfpan.core.mixing.films import Films, arrange
from halfpan.core.mixing.ground import ground_reflectance, is_light
from halfpan.core.mixing.observation import Observation
from halfpan.core.mixing.prior import Prior, basis_of, centre_of_white

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

HARDLY_SHOWS = 10.0  # dE00, common practice: nearer to its ground than this, a paint hardly shows on it

_ROUNDS = 60
_ENOUGH = 1e-4  # relative gain at which the search ends
_LONGEST_STEP = 3.0  # in prior standard deviations
_RADIUS_95 = 2.795  # of three unit normal numbers


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """One group of paints to be found together.

    ``films`` number their paints from 0; ``read`` (n, 3) are the colours, ``whiten`` (n, 3, 3) brings a
    misfit to CIEDE2000 units over its own doubt. ``hidden`` (n, h) says by how much each unknown scale
    enters the log amount of a row; ``offset`` (n,) numbers the swatch offset of a row, -1 for none.
    ``centre`` (all numbers,) is where the prior lies.
    """

    films: Films
    read: Floats
    whiten: Floats
    hidden: Floats
    offset: Ints
    centre: Floats
    paints: int
    prior: Prior

    @property
    def sizes(self) -> tuple[int, int, int]:
        """How many numbers belong to paints, to swatch offsets and to unknown amounts."""
        per_paint = basis_of(self.prior).per_paint
        return self.paints * per_paint, 3 * (int(self.offset.max(initial=-1)) + 1), self.hidden.shape[1]


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """Where the search ended: the paints' numbers (paints, numbers) and their joint covariance."""

    coefficients: Floats
    covariance: Floats


def set_task(
    observations: Sequence[Observation], paints: Sequence[str], *, unit: float, prior: Prior
) -> Task:
    """Lay observations out for the search."""
    rows_of = {paint: i for i, paint in enumerate(paints)}
    read = np.array([o.lab for o in observations]).reshape(-1, 3)
    doubt = np.array([doubt_of(o, prior) for o in observations])
    swatches = [(o.recipe.paints[0], o.occasion) if o.single else None for o in observations]
    groups = {key: i for i, key in enumerate(dict.fromkeys(k for k in swatches if k is not None))}
    hidden = _unknown_amounts(observations, prior)
    white = white_on_white(observations)
    own = [centre_of_white(prior) * (paint in white) for paint in paints]
    return Task(
        films=arrange([o.recipe for o in observations], rows_of, unit),
        read=read,
        whiten=metric_2000(read) / doubt[:, None, None],
        hidden=hidden,
        offset=np.array([-1 if key is None else groups[key] for key in swatches], dtype=np.int64),
        centre=np.concatenate([*own, np.zeros(3 * len(groups) + hidden.shape[1])]),
        paints=len(paints),
        prior=prior,
    )


def white_on_white(observations: Sequence[Observation]) -> frozenset[str]:
    """Return the paints whose every swatch hardly differs from the light paper it lies on."""
    shown: dict[str, bool] = {}
    for one in observations:
        if one.single and is_light(one.recipe.ground):
            paint = one.recipe.paints[0]
            bare = reflectance_to_lab(ground_reflectance(one.recipe.ground))
            apart = float(delta_e_2000(one.lab, bare))
            shown[paint] = shown.get(paint, False) or apart >= HARDLY_SHOWS
    return frozenset(paint for paint, yes in shown.items() if not yes)


def doubt_of(observation: Observation, prior: Prior) -> float:
    """Return the doubt of one film in CIEDE2000: paint on paper, and the reading itself."""
    painted = prior.swatch_doubt if observation.single else prior.mix_doubt
    reading = observation.within_delta_e00 / _RADIUS_95
    return float(np.hypot(painted, reading))


def _unknown_amounts(observations: Sequence[Observation], prior: Prior) -> Floats:
    """Return which unknown scales enter each row, times their spread (natural logarithm)."""
    entries: dict[tuple[str, ...], list[tuple[int, float]]] = {}
    for i, one in enumerate(observations):
        if one.amounts == "known":
            continue
        guessed = one.amounts != "rough"
        wash = one.wash or str(i)
        spread = _spread_of_amounts(one, prior)
        entries.setdefault(("wash", one.occasion, wash), []).append((i, spread))
        if guessed and one.single:
            key = ("paint", one.occasion, one.recipe.paints[0])
            strength = prior.guessed_strength if one.amounts == "unknown" else prior.full_strength
            entries.setdefault(key, []).append((i, strength))
    hidden = np.zeros((len(observations), len(entries)))
    for column, members in enumerate(entries.values()):
        for i, spread in members:
            hidden[i, column] = spread
    return hidden


def _spread_of_amounts(observation: Observation, prior: Prior) -> float:
    if observation.amounts == "graded":
        return prior.graded_wash
    return prior.rough_parts if observation.amounts == "rough" else prior.guessed_wash


def solve(task: Task, start: Floats | None = None) -> Fit:
    """Find the most probable numbers; ``start`` (paints, numbers) are coefficients to begin at."""
    own = task.sizes[0]
    numbers = task.centre.copy()
    if start is not None:
        numbers[:own] = start.ravel()
    damping = 1e-3
    misfit, slopes = _misfit(task, numbers)
    loss = _loss(task, misfit, numbers)
    for _ in range(_ROUNDS):
        hessian, gradient = _normal(task, misfit, slopes, numbers)
        gained = 0.0
        while damping < 1e6:
            damped = hessian + damping * np.diag(np.diag(hessian))
            step = -cho_solve(cho_factor(damped, overwrite_a=True), gradient)
            step *= min(1.0, _LONGEST_STEP / max(float(np.abs(step).max(initial=0.0)), 1e-12))
            trial = _misfit(task, numbers + step)
            trial_loss = _loss(task, trial[0], numbers + step)
            if trial_loss <= loss:
                gained = loss - trial_loss
                numbers, (misfit, slopes), loss = numbers + step, trial, trial_loss
                damping = max(damping / 10, 1e-6)
                break
            damping *= 10
        if gained <= _ENOUGH * loss:
            break
    hessian, _ = _normal(task, misfit, slopes, numbers)
    covariance = cho_solve(cho_factor(hessian), np.eye(len(numbers), own))
    return Fit(numbers[:own].reshape(task.paints, -1), covariance[:own])


def _split(task: Task, numbers: Floats) -> tuple[Floats, Floats, Floats]:
    own, offsets, _ = task.sizes
    return (
        numbers[:own].reshape(task.paints, -1),
        numbers[own : own + offsets].reshape(-1, 3),
        numbers[own + offsets :],
    )


def _misfit(task: Task, numbers: Floats) -> tuple[Floats, coo_array]:
    """Return the whitened misfits (n, 3) and their slopes, sparse (3n, numbers)."""
    coefficients, offsets, hidden = _split(task, numbers)
    lab, slopes = colours_and_slopes(task.films, coefficients, task.prior, task.hidden @ hidden)
    off = task.offset >= 0
    moved = lab - task.read
    moved[off] += task.prior.swatch_offset * offsets[task.offset[off]]
    misfit = np.einsum("nij,nj->ni", task.whiten, moved)
    return misfit, _columns(task, slopes.by_paint, slopes.by_amount)


def _columns(task: Task, by_paint: Floats, by_amount: Floats) -> coo_array:
    """Put the whitened slopes into their columns."""
    own, offsets, hidden = task.sizes
    n, per_paint = len(task.films), by_paint.shape[-1]
    W = task.whiten
    inks = by_paint.reshape(n, -1, 3, per_paint)
    places = inks.shape[1]
    values = [(W[:, None] @ inks).ravel()]
    rows3 = 3 * np.arange(n)[:, None] + np.arange(3)
    shape = (n, places, 3, per_paint)
    first = task.films.paints.reshape(n, places)[:, :, None, None] * per_paint
    rows = [np.broadcast_to(rows3[:, None, :, None], shape).ravel()]
    columns = [np.broadcast_to(first + np.arange(per_paint), shape).ravel()]
    off = np.flatnonzero(task.offset >= 0)
    values.append((W[off] * task.prior.swatch_offset).ravel())
    rows.append(np.broadcast_to(rows3[off][:, :, None], (len(off), 3, 3)).ravel())
    to = own + 3 * task.offset[off][:, None, None] + np.arange(3)
    columns.append(np.broadcast_to(to, (len(off), 3, 3)).ravel())
    i, j = np.nonzero(task.hidden)
    values.append((np.einsum("nij,nj->ni", W, by_amount)[i] * task.hidden[i, j][:, None]).ravel())
    rows.append(rows3[i].ravel())
    columns.append(np.repeat(own + offsets + j, 3))
    entries = (np.concatenate(rows), np.concatenate(columns))
    return coo_array((np.concatenate(values), entries), shape=(3 * n, own + offsets + hidden))


def weights_of(misfit: Floats, prior: Prior) -> Floats:
    """Return how much each film counts, (n,), by its misfit (n, 3) in doubts: less, the less it fits."""
    return np.asarray((prior.tail + 3) / (prior.tail + np.sum(misfit**2, axis=1)))


def _loss(task: Task, misfit: Floats, numbers: Floats) -> float:
    tail, moved = task.prior.tail, numbers - task.centre
    return float((tail + 3) * np.log1p(np.sum(misfit**2, axis=1) / tail).sum() + moved @ moved)


def _normal(task: Task, misfit: Floats, slopes: coo_array, numbers: Floats) -> tuple[Floats, Floats]:
    """Return the normal matrix and half the gradient of the loss."""
    weights = np.repeat(weights_of(misfit, task.prior), 3)
    matrix = slopes.tocsr()
    weighted = matrix.multiply(weights[:, None]).tocsr()
    hessian = (matrix.T @ weighted).toarray() + np.eye(len(numbers))
    return hessian, weighted.T @ misfit.ravel() + numbers - task.centre
