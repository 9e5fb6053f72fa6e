"""How well mixes are predicted, and how fast: the whole table of docs/science/mixing.md.

Real watercolours measured on paper (../shared/data/watercolour_mixtures; see its SOURCES.md). The model sees
colours only, never the spectra, and is scored on pairs it never saw: five folds by pair, several splits.

    python bench/mixing.py            three splits, everything
    python bench/mixing.py --quick    one split
    python bench/mixing.py --only chosen new-tube
"""

from __future__ import annotations

import argparse
import csv
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from halfpan.core.colour.difference import delta_e_76, delta_e_2000, metric_2000
from halfpan.core.colour.spectra import BANDS, reflectance_to_lab
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import Learnt, learn
from halfpan.core.mixing.match import match_colour
from halfpan.core.mixing.observation import Observation, Recipe, wash_of
from halfpan.core.mixing.plan import every_pair, plan_boxes
from halfpan.core.mixing.prior import Prior
from halfpan.core.mixing.strength import strength_unknown
from halfpan.core.mixing.trust import spread, suspicious

DATA = Path(__file__).resolve().parents[2] / "shared" / "data" / "watercolour_mixtures"
LEVELS = (0.5, 0.8, 0.9, 0.95)


@dataclass(frozen=True)
class Painted:
    """What was painted and read: swatches of one paint, mixes of two."""

    swatches: list[Observation]
    mixes: list[Observation]

    @property
    def pairs(self) -> np.ndarray:
        """Name the pair of each mix."""
        return np.array(["|".join(sorted(o.recipe.paints)) for o in self.mixes])

    def folds(self, split: int) -> Iterator[tuple[np.ndarray, np.ndarray, np.random.Generator]]:
        """Return five times the boxes to learn from, those of unseen pairs to be scored on, and chance."""
        rng = np.random.default_rng(split)
        names = np.unique(self.pairs)
        rng.shuffle(names)
        for i in range(5):
            held = np.isin(self.pairs, names[i::5])
            yield np.flatnonzero(~held), np.flatnonzero(held), np.random.default_rng([split, i])

    def some(self, rows: Sequence[int]) -> list[Observation]:
        """Return some of the mixes."""
        return [self.mixes[i] for i in rows]


def painted() -> Painted:
    def spectrum(row: dict[str, str]) -> np.ndarray:
        return np.array([float(row[f"R_{band:.0f}"]) for band in BANDS])

    def rows(name: str) -> list[dict[str, str]]:
        with (DATA / name).open() as lines:
            return list(csv.DictReader(lines))

    def seen(row: dict[str, str], occasion: str, *parts: tuple[str, float]) -> Observation:
        lab = tuple(reflectance_to_lab(spectrum(row)).tolist())
        return Observation(Recipe((wash_of(*parts),), paper), lab, occasion=occasion)

    paper = tuple(reflectance_to_lab([float(r["R_paper"]) for r in rows("paper.csv")]).tolist())
    swatches = [seen(r, "swatches", (r["paint"], float(r["amount_ml"]))) for r in rows("films.csv")]
    mixes = [
        seen(r, "mixes", *((r[f"paint_{s}"], float(r[f"amount_{s}_ml"])) for s in "ab"))
        for r in rows("mixtures.csv")
    ]
    return Painted(swatches, mixes)


@dataclass
class Score:
    """Errors of one row of the table, with what the model had said about them."""

    name: str
    apart: list[np.ndarray]
    apart_76: list[np.ndarray]
    inside: list[np.ndarray]
    radius: list[np.ndarray]
    paints: list[tuple[str, ...]]

    @classmethod
    def empty(cls, name: str) -> Score:
        """Begin a row."""
        return cls(name, [], [], [], [], [])

    def add(self, learnt: Learnt, asked: list[Observation], truth: list[Observation], **how: float) -> None:
        """Score what was asked against what was painted."""
        expected = spread(learnt, arrange([o.recipe for o in asked], learnt.rows, learnt.unit), **how)
        lab = np.array([o.lab for o in truth])
        apart = delta_e_2000(expected.lab, lab)
        self.apart.append(apart)
        self.apart_76.append(delta_e_76(expected.lab, lab))
        self.inside.append(np.stack([apart <= expected.within(level) for level in LEVELS], axis=1))
        self.radius.append(expected.within())
        self.paints += [o.recipe.paints for o in truth]

    @property
    def mean(self) -> float:
        """Return the mean error."""
        return float(np.concatenate(self.apart).mean())

    def line(self) -> str:
        """Return the row of the table."""
        apart, near = np.concatenate(self.apart), np.concatenate(self.apart_76) < 5
        inside = np.concatenate(self.inside)
        worst = min(
            inside[[p in paints for paints in self.paints], 3].mean()
            for p in {p for paints in self.paints for p in paints}
        )
        covers = " / ".join(f"{100 * c:.0f}" for c in inside.mean(axis=0))
        return (
            f"| {self.name} | {apart.mean():.2f} | {np.median(apart):.2f} | {np.quantile(apart, 0.9):.2f} "
            f"| {100 * near.mean():.0f} % | {covers} | {100 * worst:.0f} "
            f"| {np.concatenate(self.radius).mean():.1f} |"
        )


HEAD = (
    "| boxes | mean dE00 | median | p90 | dE76 < 5 | 50 / 80 / 90 / 95 % radius covers "
    "| 95 % of the worst paint | mean 95 % radius |\n|---|---|---|---|---|---|---|---|"
)


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
            for name, use in _random_rows(data, train, rng):
                scores[name].add(learn(data.swatches + data.some(use), prior=prior), test, test)
            everything = learn(data.swatches + data.some(train), prior=prior)
            scores["all of seen pairs"].add(everything, test, test)
    return list(scores.values())


def _random_rows(
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
            one = next(use for name, use in _random_rows(data, train, rng) if name.startswith("one"))
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


def speed(data: Painted) -> list[str]:
    """Time what a painter waits for, beside one dense product of two 1,000 by 1,000 matrices."""
    everything = data.swatches + data.mixes
    square = np.random.default_rng(0).normal(size=(1000, 1000))
    learnt = learn(everything)
    before = learn(everything[:-1])
    forty = _forty_paints()
    many = [Recipe((((a, 1.0 + k), (b, 2.0)),)) for k in range(129) for a, b in _two_of(forty.paints)][
        :100_000
    ]
    films = arrange(many, forty.rows, 1.0)
    swatches_only = learn(data.swatches)
    candidates = every_pair(swatches_only.paints, swatches_only)
    tasks = {
        "product of two 1,000 x 1,000 matrices": lambda: square @ square,
        "full fit, 13 paints, 763 readings, from nothing": lambda: learn(everything),
        "one more box": lambda: learn(everything, start=before),
        "100,000 predictions": lambda: colours(films, forty.coefficients, forty.prior),
        "100,000 predictions with radius": lambda: spread(forty, films).within(),
        "best mixes of up to 3 of 40 paints": lambda: match_colour(forty, (45.0, 10.0, 10.0), forty.paints),
        "plan of 13 boxes, 13 paints": lambda: plan_boxes(swatches_only, 13, candidates=candidates),
        "plan of 13 boxes, 40 paints": lambda: plan_boxes(
            forty, 13, candidates=every_pair(forty.paints, forty)
        ),
        "is anything of it not to be trusted": lambda: strength_unknown(learnt),
    }
    lines, first = ["| task | seconds | times the product |", "|---|---|---|"], 0.0
    for name, task in tasks.items():
        seconds = min(_timed(task) for _ in range(3))
        first = first or seconds
        lines.append(f"| {name} | {seconds:.3f} | {seconds / first:.1f} |")
    return lines


def _timed(task: object) -> float:
    start = time.perf_counter()
    task()  # type: ignore[operator]
    return time.perf_counter() - start


def _two_of(paints: Sequence[str]) -> Iterator[tuple[str, str]]:
    return ((a, b) for i, a in enumerate(paints) for b in paints[:i])


def _forty_paints() -> Learnt:
    """Learn forty invented paints from three washes each."""
    rng = np.random.default_rng(5)
    names = [f"paint {i}" for i in range(40)]
    rows = {name: i for i, name in enumerate(names)}
    truth = rng.normal(size=(40, 13))
    recipes = [Recipe((((name, amount),),)) for name in names for amount in (1.0, 4.0, 12.0)]
    labs = colours(arrange(recipes, rows, 1.0), truth, Prior())
    return learn([Observation(r, tuple(lab.tolist())) for r, lab in zip(recipes, labs, strict=True)])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--quick", action="store_true", help="one split instead of three")
    sections = ("unseen", "new-tube", "noise", "rough", "swapped", "ladders-trusted", "speed")
    parser.add_argument("--only", nargs="*", choices=sections, default=sections)
    wanted = parser.parse_args()
    data, prior, splits = painted(), Prior(), 1 if wanted.quick else 3
    print(f"{splits} split(s), five folds by pair; {prior}\n")
    tables = {
        "unseen": lambda: [*unseen_pairs(data, splits, prior), seen_pairs(data, splits, prior)],
        "new-tube": lambda: new_tube(data, prior),
        "noise": lambda: with_noise(data, splits, prior),
        "rough": lambda: rough_amounts(data, splits, prior),
        "ladders-trusted": lambda: unseen_pairs(
            data, 1, replace(prior, swatch_doubt=1.0, swatch_offset=1e-3)
        ),
    }
    for name in sections:
        if name not in wanted.only:
            continue
        print(f"## {name}\n")
        if name in tables:
            scores = tables[name]()
            print(HEAD, *(s.line() for s in scores), sep="\n")
            _ratios(scores)
        else:
            print(*(swapped(data, splits, prior) if name == "swapped" else speed(data)), sep="\n")
        print(flush=True)


def _ratios(scores: list[Score]) -> None:
    by_name = {s.name: s for s in scores}
    for count in (13, 26):
        if f"{count} random" in by_name:
            gain = 1 - by_name[f"{count} chosen"].mean / by_name[f"{count} random"].mean
            print(f"\n{count} chosen boxes err {100 * gain:.0f} % less than {count} random ones.")


if __name__ == "__main__":
    main()
