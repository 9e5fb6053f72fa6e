"""One mix as its page shows it: predicted with its doubt, all parts of a pair, and what was painted of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from sqlalchemy import Connection

from halfpan.collection import paints, readings, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.mixing.ends import ends_of_doubt
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import Recipe, Wash, wash_of
from halfpan.core.mixing.predict import FULL_STRENGTH, Prediction, from_parts, predict
from halfpan.core.mixing.trust import spread
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.paint_names import names_of
from halfpan.studio.predict_mix import LADDER, ground_of
from halfpan.studio.studio import Studio

MOST_PAINTS = 4
RATIOS = ((1.0, 0.0), (4.0, 1.0), (2.0, 1.0), (1.0, 1.0), (1.0, 2.0), (1.0, 4.0), (0.0, 1.0))
_SAME = 0.02  # shares that differ by less are the same parts


@dataclass(frozen=True, slots=True)
class Proof:
    """A box that was painted with these paints: its parts, its reading, and how far the prediction lies."""

    parts: tuple[float, ...]
    lab: Lab
    within_delta_e00: float
    apart: float
    box: KeptSwatch | None
    where: str


@dataclass(frozen=True, slots=True)
class Ratio:
    """One ratio of a pair: its predicted ladder, strong to thin, and the box painted of it."""

    parts: tuple[float, float]
    ladder: tuple[Lab, ...]
    chosen: bool
    proof: Proof | None


@dataclass(frozen=True, slots=True)
class MixTried:
    """A mix with what is predicted and what was painted of it.

    ``ladder`` holds the prediction at each strength of `LADDER`; ``ends`` the colours at both ends of its
    doubt, likewise. ``ratios`` is empty unless two paints are mixed.
    """

    paints: tuple[Paint, ...]
    parts: tuple[float, ...]
    boxes: dict[str, KeptSwatch]
    ladder: tuple[Prediction, ...]
    ends: tuple[tuple[Lab, ...], tuple[Lab, ...]]
    proofs: tuple[Proof, ...]
    ratios: tuple[Ratio, ...]


def mixable_paints(studio: Studio) -> list[Paint]:
    """Return the owned paints whose mixes can be predicted.

    Raises
    ------
    NotLearnt
        When nothing was read yet.
    """
    with studio.look() as db:
        learnt = learnt_mixes(studio, db)
        return [one for one in paints.listed(db) if one.owned and one.id in learnt.rows]


def try_mix(studio: Studio, parts: Sequence[tuple[str, float]], *, paper: str = "") -> MixTried:
    """Predict a mix of one to four paints and lay beside it what was painted of them.

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    with studio.look() as db:
        learnt = learnt_mixes(studio, db)
        named = [(find_paint(db, text), amount) for text, amount in parts]
        ground = ground_of(db, learnt, paper)
        boxes = {paint: box for paint, box in swatches.counting(db).items() if box.page_read is not None}
        wash = wash_of(*((paint.id, amount) for paint, amount in named))
        if not 1 <= len(wash) <= MOST_PAINTS or any(amount > 1000 for _, amount in wash):
            raise BadRequest("A mix takes one to four paints, each with some parts.")
        learnt.require([paint for paint, _ in wash])
        painted = _painted(db, [paint for paint, _ in wash])
        names = names_of(paints.listed(db))
    held = {paint.id: paint for paint, _ in named}
    ladder = predict(learnt, [_recipe(learnt, wash, ground, s) for s in LADDER], names=names)
    proofs = _proofs(learnt, [paint for paint, _ in wash], painted, ground)
    return MixTried(
        paints=tuple(held[paint] for paint, _ in wash),
        parts=tuple(amount for _, amount in wash),
        boxes=boxes,
        ladder=ladder,
        ends=_ends(learnt, wash, ground),
        proofs=proofs,
        ratios=_ratios(learnt, wash, ground, proofs) if len(wash) == 2 else (),
    )


def _recipe(learnt: Learnt, wash: Wash, ground: Lab, strength: float) -> Recipe:
    return Recipe((from_parts(wash, strength * FULL_STRENGTH * learnt.unit),), ground)


def _ends(learnt: Learnt, wash: Wash, ground: Lab) -> tuple[tuple[Lab, ...], tuple[Lab, ...]]:
    recipes = [_recipe(learnt, wash, ground, s) for s in LADDER]
    expected = spread(learnt, arrange(recipes, learnt.rows, learnt.unit))
    first, second = ends_of_doubt(expected.lab, expected.covariance)
    return tuple(map(_lab, first)), tuple(map(_lab, second))


def _lab(values: Sequence[float] | np.ndarray) -> Lab:
    return float(values[0]), float(values[1]), float(values[2])


@dataclass(frozen=True, slots=True)
class _Painted:
    """A painted box of these paints, its parts in their order."""

    parts: tuple[float, ...]
    lab: Lab
    within: float
    box: KeptSwatch | None
    where: str


def _painted(db: Connection, wanted: list[str]) -> list[_Painted]:
    """Return accepted full washes of exactly these paints, the latest first."""
    pictures = {
        (kept.page_read, kept.swatch.box): kept for kept in swatches.listed(db) if kept.page_read is not None
    }
    found = []
    for one in readings.listed(db, state="accepted"):
        amounts = dict(one.amounts)
        if one.reading.zone == "masstone" and one.ground == "paper" and set(amounts) == set(wanted):
            box = pictures.get((one.page_read, one.reading.box)) if one.page_read is not None else None
            where = " ".join(filter(None, (one.chart or one.source, one.reading.box)))
            parts = tuple(amounts[paint] for paint in wanted)
            found.append(_Painted(parts, one.reading.lab, one.reading.within_delta_e00, box, where))
    return found[::-1]


def _proofs(learnt: Learnt, wanted: list[str], painted: list[_Painted], ground: Lab) -> tuple[Proof, ...]:
    washes = [tuple(zip(wanted, one.parts, strict=True)) for one in painted]
    told = predict(learnt, [_recipe(learnt, wash, ground, 1.0) for wash in washes]) if washes else ()
    return tuple(
        Proof(one.parts, one.lab, one.within, float(delta_e_2000(told_.lab, one.lab)), one.box, one.where)
        for one, told_ in zip(painted, told, strict=True)
    )


def _ratios(learnt: Learnt, wash: Wash, ground: Lab, proofs: Sequence[Proof]) -> tuple[Ratio, ...]:
    """Return the usual ratios of a pair, with those that were asked for or painted put in between."""
    (a, m), (b, n) = wash
    wanted: list[tuple[float, float]] = [(m, n)]
    for x, y in [*((one.parts[0], one.parts[1]) for one in proofs), *RATIOS]:
        if all(abs(_share(x, y) - _share(*other)) > _SAME for other in wanted):
            wanted.append((x, y))
    wanted.sort(key=lambda parts: _share(*parts))
    recipes = [_recipe(learnt, wash_of((a, x), (b, y)), ground, s) for x, y in wanted for s in LADDER]
    labs = [one.lab for one in predict(learnt, recipes)]
    rows = [tuple(labs[i : i + len(LADDER)]) for i in range(0, len(labs), len(LADDER))]
    return tuple(
        Ratio(parts, row, parts == (m, n), _proof_of(parts, proofs))
        for parts, row in zip(wanted, rows, strict=True)
    )


def _proof_of(parts: tuple[float, float], proofs: Sequence[Proof]) -> Proof | None:
    share = _share(*parts)
    return next((one for one in proofs if abs(_share(one.parts[0], one.parts[1]) - share) <= _SAME), None)


def _share(first: float, second: float) -> float:
    return second / (first + second)
