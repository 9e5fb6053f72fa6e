"""Learn how the paints mix, from every accepted reading."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import paints
from halfpan.core.mixing.learnt import Learnt, learn
from halfpan.core.mixing.observation import Recipe
from halfpan.core.mixing.prior import Prior
from halfpan.core.mixing.strength import StrengthUnknown, strength_unknown
from halfpan.core.mixing.trust import Suspicious, suspicious
from halfpan.errors import NotLearnt, Unwritable
from halfpan.files.learnt import read_learnt, write_learnt
from halfpan.studio.painted_films import painted_films
from halfpan.studio.studio import Studio

KEPT_AS = "learnt.npz"


@dataclass(frozen=True, slots=True)
class Lesson:
    """What was learnt, and what should be said about it."""

    learnt: Learnt
    swatches: int
    mixes: int
    unknown_strength: tuple[StrengthUnknown, ...]
    suspicious: tuple[tuple[Suspicious, Recipe], ...]
    without_readings: tuple[str, ...]


def learnt_mixes(studio: Studio, db: Connection) -> Learnt:
    """Return what is known of the paints, learning it when readings have changed.

    Raises
    ------
    NotLearnt
        When no reading can be learnt from.
    """
    films, unit = painted_films(db)
    if not films:
        raise NotLearnt(
            "There is nothing to learn mixes from yet: paint a chart, read it and accept what was read "
            "(`halfpan chart read`), or add measured swatches (`halfpan readings add`)."
        )
    known = read_learnt(studio.worked_out(KEPT_AS), Prior())
    learnt = learn(films, unit=unit, known=known)
    if known is None or _marks(known) != _marks(learnt):
        with suppress(Unwritable):  # a studio on a full or locked disk still answers
            write_learnt(studio.workings / KEPT_AS, learnt)
    return learnt


def _marks(learnt: Learnt) -> list[str]:
    return [group.mark for group in learnt.groups]


def learn_mixes(studio: Studio) -> Lesson:
    """Learn from everything read, and say what is still unknown and what looks wrong."""
    with studio.look() as db:
        learnt = learnt_mixes(studio, db)
        owned = [paint.id for paint in paints.listed(db) if paint.owned]
    known = learnt.rows
    single = sum(1 for o in learnt.observations if o.single)
    return Lesson(
        learnt=learnt,
        swatches=single,
        mixes=len(learnt.observations) - single,
        unknown_strength=tuple(strength_unknown(learnt, settle=True).values()),
        suspicious=tuple((s, learnt.observations[s.number].recipe) for s in suspicious(learnt)),
        without_readings=tuple(paint for paint in owned if paint not in known),
    )
