"""What is learnt from how many boxes, chosen by the model or at random."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from halfpan.core.mixing.learnt import Learnt, learn
from halfpan.core.mixing.plan import plan_boxes
from halfpan.core.mixing.prior import Prior
from mixes.painted import Painted
from mixes.score import Score


def chosen_boxes(data: Painted, learnt: Learnt, train: Sequence[int], count: int) -> list[int]:
    """Return which boxes of the training pairs the planner asks for, wanting to know every pair."""
    offered = data.some(train)
    plan = plan_boxes(
        learnt, count, candidates=[o.recipe for o in offered], targets=[o.recipe for o in data.mixes]
    )
    where = {id(o.recipe): row for o, row in zip(offered, train, strict=True)}
    return [where[id(recipe)] for recipe in plan.boxes]


def unseen_pairs(data: Painted, splits: int, prior: Prior) -> list[Score]:
    names = ["0 (swatches alone)", "13 chosen", "26 chosen", "52 chosen", "13 random", "26 random"]
    scores = {name: Score.empty(name) for name in [*names, "one random per seen pair", "all of seen pairs"]}
    for split in range(splits):
        for train, held, rng in data.folds(split):
            test = data.some(held)
            learnt = learn(data.swatches, prior=prior)
            scores[names[0]].add(learnt, test, test)
            used: list[int] = []
            for count in (13, 26, 52):
                left = [i for i in train if i not in used]
                used += chosen_boxes(data, learnt, left, count - len(used))
                learnt = learn(data.swatches + data.some(used), prior=prior)
                scores[f"{count} chosen"].add(learnt, test, test)
            for name, use in random_rows(data, train, rng):
                scores[name].add(learn(data.swatches + data.some(use), prior=prior), test, test)
            everything = learn(data.swatches + data.some(train), prior=prior)
            scores["all of seen pairs"].add(everything, test, test)
    return list(scores.values())


def random_rows(
    data: Painted, train: np.ndarray, rng: np.random.Generator
) -> Iterator[tuple[str, list[int]]]:
    pairs = data.pairs[train]
    for _ in range(2):
        for count in (13, 26):
            yield f"{count} random", rng.choice(train, count, replace=False).tolist()
        yield (
            "one random per seen pair",
            [int(rng.choice(train[pairs == pair])) for pair in np.unique(pairs)],
        )


def seen_pairs(data: Painted, splits: int, prior: Prior) -> Score:
    score = Score.empty("all, the pair itself seen (folds by box)")
    for split in range(splits):
        order = np.random.default_rng(split).permutation(len(data.mixes))
        for i in range(5):
            held = data.some(order[i::5])
            train = data.some(np.setdiff1d(order, order[i::5]))
            score.add(learn(data.swatches + train, prior=prior), held, held)
    return score


def new_tube(data: Painted, prior: Prior) -> list[Score]:
    """Every paint in turn is new: all boxes without it are known, a few with it are chosen by the model."""
    scores = {count: Score.empty(f"new tube, {count} boxes") for count in (0, 1, 3)}
    for paint in sorted({p for o in data.swatches for p in o.recipe.paints}):
        with_it = [i for i, o in enumerate(data.mixes) if paint in o.recipe.paints]
        known = data.swatches + [o for o in data.mixes if paint not in o.recipe.paints]
        before = learn(known, prior=prior)
        recipes = [o.recipe for o in data.some(with_it)]
        plan = plan_boxes(before, 3, candidates=recipes)
        picked = [with_it[next(i for i, r in enumerate(recipes) if r is box)] for box in plan.boxes]
        for count, score in scores.items():
            use = picked[:count]
            other = [i for i in with_it if data.pairs[i] not in set(data.pairs[use])]
            test = data.some(other)
            score.add(learn(known + data.some(use), prior=prior, start=before), test, test)
    return list(scores.values())
