"""The same with readings that are off, amounts that are guessed, boxes that were swapped."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from halfpan.core.colour.difference import delta_e_2000, metric_2000
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.observation import Observation, Recipe
from halfpan.core.mixing.prior import Prior
from halfpan.core.mixing.trust import suspicious
from mixes.learning import chosen_boxes, random_rows
from mixes.painted import Painted
from mixes.score import Score


def misread(one: Observation, size: float, rng: np.random.Generator) -> Observation:
    """Return a reading off by CIEDE2000 ``size`` in the mean, its radius stated."""
    sigma = size / 1.596  # mean length of three unit normal numbers
    step = np.linalg.solve(metric_2000(one.lab), rng.normal(0, sigma, 3))
    return replace(one, lab=tuple((np.array(one.lab) + step).tolist()), within_delta_e00=2.795 * sigma)


def with_noise(data: Painted, splits: int, prior: Prior, size: float = 2.0) -> list[Score]:
    names = ("0", "13 chosen", "26 chosen", "one random per seen pair", "all of seen pairs")
    scores = {n: Score.empty(f"{n}, every reading off by dE00 {size:.0f}") for n in names}
    for split in range(splits):
        for train, held, rng in data.folds(split):
            noisy = Painted(
                [misread(o, size, rng) for o in data.swatches], [misread(o, size, rng) for o in data.mixes]
            )
            test = data.some(held)
            learnt = learn(noisy.swatches, prior=prior)
            scores["0"].add(learnt, test, test)
            used: list[int] = []
            for count in (13, 26):
                left = [i for i in train if i not in used]
                used += chosen_boxes(noisy, learnt, left, count - len(used))
                learnt = learn(noisy.swatches + noisy.some(used), prior=prior)
                scores[f"{count} chosen"].add(learnt, test, test)
            one = next(use for name, use in random_rows(data, train, rng) if name.startswith("one"))
            for name, use in (("one random per seen pair", one), ("all of seen pairs", train)):
                scores[name].add(learn(noisy.swatches + noisy.some(use), prior=prior), test, test)
    return list(scores.values())


def rough_amounts(data: Painted, splits: int, prior: Prior) -> list[Score]:
    """Swatches painted by eye, boxes and asked recipes measured out within a quarter."""
    scores = {count: Score.empty(f"{count} chosen, amounts rough or unknown") for count in (0, 26)}
    for split in range(splits):
        for train, held, rng in data.folds(split):
            swatches = _guessed(data.swatches, rng)
            rough = Painted(swatches, [_rough(o, rng) for o in data.mixes])
            test = data.some(held)
            learnt = learn(swatches, prior=prior, unit=0.01)
            scores[0].add(learnt, rough.some(held), test, amount_spread=prior.rough_parts)
            used = chosen_boxes(rough, learnt, train, 26)
            learnt = learn(swatches + rough.some(used), prior=prior, unit=0.01)
            scores[26].add(learnt, rough.some(held), test, amount_spread=prior.rough_parts)
    return list(scores.values())


def _guessed(swatches: list[Observation], rng: np.random.Generator) -> list[Observation]:
    """Return the ladders with guessed amounts: a geometric row, each paint's scale wrong in its own way."""
    told = []
    for paint in sorted({p for o in swatches for p in o.recipe.paints}):
        ladder = sorted(
            (o for o in swatches if paint in o.recipe.paints), key=lambda o: o.recipe.layers[0][0][1]
        )
        scale = 0.01 * np.exp(0.7 * rng.normal())
        for one, guess in zip(ladder, np.geomspace(1, 12, len(ladder)), strict=True):
            recipe = Recipe((((paint, float(scale * guess)),),), one.recipe.ground)
            told.append(replace(one, recipe=recipe, amounts="unknown"))
    return told


def _rough(one: Observation, rng: np.random.Generator) -> Observation:
    wash = tuple((p, a * float(np.exp(0.22 * rng.normal()))) for p, a in one.recipe.layers[0])
    return replace(one, recipe=Recipe((wash,), one.recipe.ground), amounts="rough")


def swapped(data: Painted, splits: int, prior: Prior) -> list[str]:
    """Swap the colours of 8 % of the boxes and see what it costs and whether they are found."""
    lines = [
        "| boxes | clean | 8 % swapped | swaps over dE00 8 found | false alarms |",
        "|---|---|---|---|---|",
    ]
    for name in ("52 random", "all of seen pairs"):
        clean, dirty = Score.empty(name), Score.empty(name)
        found = large = alarms = sound = 0
        for split in range(splits):
            for train, held, rng in data.folds(split):
                use = rng.choice(train, 52, replace=False) if name.startswith("52") else train
                boxes, test = data.some(use), data.some(held)
                moved = _swap(boxes, rng)
                clean.add(learn(data.swatches + boxes, prior=prior), test, test)
                learnt = learn(data.swatches + moved, prior=prior)
                dirty.add(learnt, test, test)
                off = delta_e_2000(np.array([o.lab for o in moved]), np.array([o.lab for o in boxes]))
                flagged = {learnt.observations[s.number].box for s in suspicious(learnt)}
                said = np.array([o.box in flagged for o in moved])
                found, large = found + int(said[off > 8].sum()), large + int((off > 8).sum())
                alarms, sound = alarms + int(said[off == 0].sum()), sound + int((off == 0).sum())
        share = f"{100 * alarms / sound:.1f} %"
        lines.append(f"| {name} | {clean.mean:.2f} | {dirty.mean:.2f} | {found} of {large} | {share} |")
    return lines


def _swap(boxes: list[Observation], rng: np.random.Generator) -> list[Observation]:
    count = 2 * max(1, round(0.04 * len(boxes)))
    order = rng.permutation(len(boxes))[:count]
    labs = [o.lab for o in boxes]
    for i, j in zip(order[::2], order[1::2], strict=True):
        labs[i], labs[j] = labs[j], labs[i]
    return [replace(o, lab=lab, box=str(i)) for i, (o, lab) in enumerate(zip(boxes, labs, strict=True))]
