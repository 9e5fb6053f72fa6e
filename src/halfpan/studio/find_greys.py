"""Which two paints make the cleanest grey and the deepest dark: painted proof first, then predictions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from sqlalchemy import Connection

from halfpan.core.arranging.learnt_reach import pair_colours
from halfpan.core.arranging.opposites import (
    Opposite,
    PairMix,
    along_pairs,
    cleanest_greys,
    darkest_darks,
    visual_opposites,
)
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import Recipe
from halfpan.core.mixing.predict import FULL_STRENGTH, predict
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.errors import NotLearnt
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.predict_mix import ground_of
from halfpan.studio.studio import Studio

SHARES = (1 / 9, 1 / 5, 1 / 3, 1 / 2, 2 / 3, 4 / 5, 8 / 9)
_LOOKED_INTO = 25  # pairs of each kind that get a full prediction with its doubt


@dataclass(frozen=True, slots=True)
class GreysFound:
    """Mixing opposites and darks, painted ones before foretold ones; opposites to the eye stand apart.

    ``left_out`` are paints nothing was read of.
    """

    greys: tuple[PairMix, ...]
    darks: tuple[PairMix, ...]
    opposites: tuple[Opposite, ...]
    left_out: tuple[str, ...]
    paints: dict[str, Paint]


def find_greys(studio: Studio, which: str = "all", *, count: int = 10, paper: str = "") -> GreysFound:
    """Look through all pairs of a tin, a list, or everything owned.

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    with studio.look() as db:
        offered = offered_paints(db, which)
        learnt, ground = _learnt(studio, db, paper)
        painted = painted_paints(db, offered)
    known = [one.id for one in offered if one.id in learnt.rows]
    if len(known) < 2:
        raise NotLearnt("Two of these paints must have been read before their mixes can be foretold.")
    proved = _painted(learnt, known)
    likely = _likely(learnt, known, ground)
    mixes = [*proved, *_foretold(learnt, likely, ground)]
    return GreysFound(
        cleanest_greys(mixes, count),
        darkest_darks(mixes, count),
        visual_opposites(painted)[:count],
        tuple(one.id for one in offered if one.id not in learnt.rows),
        {one.id: one for one in offered},
    )


def _learnt(studio: Studio, db: Connection, paper: str) -> tuple[Learnt, Lab]:
    learnt = learnt_mixes(studio, db)
    return learnt, ground_of(db, learnt, paper)


def _painted(learnt: Learnt, known: Sequence[str]) -> list[PairMix]:
    """Return the painted mixes of two of these paints, on paper."""
    mine, found = set(known), []
    for one in learnt.observations:
        wash = one.recipe.layers[0] if len(one.recipe.layers) == 1 else ()
        dark_ground = len(one.recipe.ground) == 3 and one.recipe.ground[0] < 50
        if len(wash) == 2 and {paint for paint, _ in wash} <= mine and not dark_ground:
            (first, a), (second, b) = wash
            found.append(PairMix(first, second, b / (a + b), one.lab, one.within_delta_e00, painted=True))
    return found


def _likely(learnt: Learnt, known: Sequence[str], ground: Lab) -> list[tuple[str, str]]:
    """Return the pairs that come nearest to grey, and the deepest ones, by the films alone."""
    pairs = np.array(list(combinations(range(len(known)), 2)), dtype=np.intp)
    lab = pair_colours(learnt, known, pairs, ground=ground, shares=SHARES, strengths=(1.0,))[:, :, 0]
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    greyest = np.argsort(np.where(lab[..., 0] <= 65, chroma, np.inf).min(axis=1), kind="stable")
    deepest = np.argsort(np.where(chroma <= 15, lab[..., 0], np.inf).min(axis=1), kind="stable")
    taken = dict.fromkeys([*greyest[:_LOOKED_INTO].tolist(), *deepest[:_LOOKED_INTO].tolist()])
    return [(known[pairs[i, 0]], known[pairs[i, 1]]) for i in taken]


def _foretold(learnt: Learnt, pairs: Sequence[tuple[str, str]], ground: Lab) -> tuple[PairMix, ...]:
    full = FULL_STRENGTH * learnt.unit
    recipes = [
        Recipe((((first, full * (1 - share)), (second, full * share)),), ground)
        for first, second in pairs
        for share in SHARES
    ]
    told = predict(learnt, recipes)
    shape = (len(pairs), len(SHARES))
    lab = np.array([one.lab for one in told]).reshape(*shape, 3)
    within = np.array([one.within_delta_e00 for one in told]).reshape(shape)
    return along_pairs(pairs, SHARES, lab, within)
