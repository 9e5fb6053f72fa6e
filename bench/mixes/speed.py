"""What a painter waits for, beside one dense product in the same run."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence

import numpy as np

from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import Learnt, learn
from halfpan.core.mixing.match import match_colour
from halfpan.core.mixing.observation import Observation, Recipe
from halfpan.core.mixing.plan import every_pair, plan_boxes
from halfpan.core.mixing.prior import Prior
from halfpan.core.mixing.strength import strength_unknown
from halfpan.core.mixing.trust import spread
from mixes.painted import Painted


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
