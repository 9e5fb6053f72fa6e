"""Take back what was done, and look at what was done."""

from __future__ import annotations

from datetime import datetime

from halfpan.collection import changes
from halfpan.collection.changes import Change
from halfpan.collection.memory import Stamp, stamp
from halfpan.studio.studio import Studio


def undo(studio: Studio, change: int | None = None, *, now: datetime, who: str = "") -> Change:
    """Take back one change, by default the latest that still stands."""
    with studio.transaction() as db:
        return changes.undo(db, change, now=now, who=who)


def latest_changes(studio: Studio, *, limit: int = 50) -> list[Change]:
    """Return what was done lately, newest first."""
    with studio.look() as db:
        return changes.listed(db, limit=limit)


def as_of(studio: Studio) -> Stamp:
    """Return the latest change, by which it can be told later whether anything was done since."""
    with studio.look() as db:
        return stamp(db)
