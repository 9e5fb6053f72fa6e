"""What was done to one paint, newest first, and which of it can still be taken back."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import history
from halfpan.collection.changes import Change
from halfpan.collection.standing import stands_alone
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Done:
    """One change that touched a paint.

    Attributes
    ----------
    change : when, and what in words
    before : what stood there before, by what it is: ``name``, ``codes``, ``notes`` and the like
    undoable : whether it can be taken back now; it cannot once a later change built on it
    added : whether taking it back puts the paint itself away
    """

    change: Change
    before: tuple[tuple[str, str], ...]
    undoable: bool
    added: bool


def paint_history(studio: Studio, text: str) -> tuple[Done, ...]:
    """Return what was done to the paint that an id or a name means, newest first.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        touches = history.of_paint(db, find_paint(db, text).id)
        return tuple(
            Done(
                one.change,
                one.before,
                undoable=not one.change.undone and stands_alone(db, one.steps),
                added=one.added,
            )
            for one in touches
        )
