"""Predict what mixes and glazes will look like, from words or from a table of recipes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from sqlalchemy import Connection

from halfpan.collection import paints, papers
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import Recipe, Wash
from halfpan.core.mixing.predict import FULL_STRENGTH, Prediction, from_parts, predict
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest
from halfpan.files.tables import Table
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.mix_table import recipes_in_table
from halfpan.studio.mix_words import layers_in_words, parts_in_words
from halfpan.studio.paint_names import names_of
from halfpan.studio.painted_films import usual_paper
from halfpan.studio.studio import Studio

STRENGTHS = {"full": 1.0, "mid": 0.25, "tint": 0.08}
LADDER = (1.0, 1 / 2, 1 / 4, 1 / 8, 1 / 16)


@dataclass(frozen=True, slots=True)
class Predicted:
    """Answers in the order asked, and what each paint (by id) is called."""

    predictions: tuple[Prediction, ...]
    names: dict[str, str]


def predict_mix(
    studio: Studio,
    text: str,
    *,
    strengths: Sequence[float] = (1.0,),
    paper: str = "",
    by_eye: bool = False,
) -> Predicted:
    """Predict a mix written in words at one or several strengths of the wash.

    Parameters
    ----------
    studio : Studio
    text : such as ``3 Scarlet + 1 Ultramarine``
    strengths : of the wash, 1 being full; several make a tint ladder
    paper : a paper of the studio; the one most was painted on when not named
    by_eye : parts are only taken by eye, within a quarter

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    with studio.look() as db:
        learnt, named, names, ground = _ready(studio, db, paper)
    parts = parts_in_words(text, named)
    washes = [(from_parts(parts, _total(strength, learnt)),) for strength in strengths]
    return Predicted(_answer(learnt, washes, ground, names, by_eye=by_eye), names)


def predict_glaze(
    studio: Studio, text: str, *, strengths: Sequence[float] = (1.0,), paper: str = "", by_eye: bool = False
) -> Predicted:
    """Predict dry layers written from the top down, ``Rose over Yellow``.

    ``strengths`` are those of the layers as they are written; the last one holds for all further layers.
    """
    with studio.look() as db:
        learnt, named, names, ground = _ready(studio, db, paper)
    layers = layers_in_words(text, named)
    written = [*strengths, *[strengths[-1]] * len(layers)][: len(layers)]
    totals = [_total(strength, learnt) for strength in reversed(written)]
    washes = tuple(from_parts(wash, total) for wash, total in zip(layers, totals, strict=True))
    return Predicted(_answer(learnt, [washes], ground, names, by_eye=by_eye), names)


def predict_table(studio: Studio, table: Table, *, paper: str = "", by_eye: bool = False) -> Predicted:
    """Predict every row of a table of amounts, in the unit of the readings.

    Columns are ``paint, amount`` or ``paint_a, amount_a, paint_b, amount_b`` and so on.
    """
    with studio.look() as db:
        learnt, named, names, ground = _ready(studio, db, paper)
    washes = [(wash,) for wash in recipes_in_table(table, named)]
    return Predicted(_answer(learnt, washes, ground, names, by_eye=by_eye), names)


def _ready(
    studio: Studio, db: Connection, paper: str
) -> tuple[Learnt, Callable[[str], Paint], dict[str, str], Lab]:
    learnt = learnt_mixes(studio, db)
    everything = paints.listed(db)

    @cache
    def named(text: str) -> Paint:
        return pick_paint(everything, text)

    return learnt, named, names_of(everything), ground_of(db, learnt, paper)


def ground_of(db: Connection, learnt: Learnt, paper: str) -> Lab:
    """Return the white of a named paper, or of the one most was painted on."""
    if not paper:
        return usual_paper(learnt.observations)
    found = papers.find(db, paper)
    if found.lab is None:
        raise BadRequest(f"The white of the paper “{found.name}” was never measured.")
    return found.lab


def _total(strength: float, learnt: Learnt) -> float:
    if not 0 < strength <= 4:
        raise BadRequest(f"A strength of {strength:g} cannot be painted; give more than 0 and at most 4.")
    return strength * FULL_STRENGTH * learnt.unit


def _answer(
    learnt: Learnt, washes: Sequence[tuple[Wash, ...]], ground: Lab, names: dict[str, str], *, by_eye: bool
) -> tuple[Prediction, ...]:
    recipes = [Recipe(layers, ground) for layers in washes]
    spread = learnt.prior.rough_parts if by_eye else 0.0
    return predict(learnt, recipes, amount_spread=spread, names=names)
