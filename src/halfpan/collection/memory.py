"""Rows that a running program reads once; after a change it reads again only those of the paints it touched.

What a change touched is told by its steps (see ``changes``), whichever program made it: a change is looked
for at every question. Only a connection that looks carries a memory (see ``Studio.look``); where something
is being kept, everything is read.
"""

from __future__ import annotations

import gc
import threading
from collections.abc import Callable, Collection, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Generic, TypeVar

from sqlalchemy import Connection, func, select

from halfpan.collection.tables import changes, metadata

T = TypeVar("T")
MEMORY = "halfpan_memory"
MOST_CHANGES, MOST_PAINTS = 50, 500


@dataclass(frozen=True, slots=True, eq=False)
class Noun(Generic[T]):
    """Something of which a paint has none, one or several.

    Attributes
    ----------
    read : returns those of some paints, or all; none among the paints stands for those of no paint
    paint : the paint one is of
    place : by what they are listed
    own : tables whose rows are of one paint, with the column that names it
    shared : tables whose rows many share, with the columns that are looked at
    """

    name: str
    read: Callable[[Connection, Collection[str | None] | None], Sequence[T]]
    paint: Callable[[T], str | None]
    place: Callable[[T], Any]
    own: Mapping[str, str]
    shared: Mapping[str, AbstractSet[str]]


@dataclass(frozen=True, slots=True)
class Stamp:
    """The latest change, and how many there are."""

    number: int = 0
    count: int = 0
    when: datetime | None = None
    what: str = ""


@dataclass(frozen=True, slots=True)
class _Kept:
    stamp: Stamp
    values: tuple[Any, ...]


class Memory:
    """What a running program has read of a studio, noun by noun, and what it last worked out of that."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._kept: dict[str, _Kept] = {}
        self._answers: dict[str, tuple[Any, Any]] = {}

    def forget(self) -> None:
        """Read everything again."""
        with self._lock:
            self._kept.clear()
            self._answers.clear()

    def worked_out(self, what: str, of: Any, work: Callable[[], T]) -> T:
        """Return an answer, the one that was worked out before if it was of the very same things.

        Parameters
        ----------
        what : the question; its last answer is kept
        of : everything the answer depends on, compared by value
        work : works it out
        """
        with self._lock:
            kept = self._answers.get(what)
        if kept is None or kept[0] != of:
            kept = (of, work())
            with self._lock:
                self._answers[what] = kept
        answer: T = kept[1]
        return answer

    def recall(self, db: Connection, noun: Noun[T]) -> tuple[T, ...]:
        """Return all of a noun as they stand at the moment this connection looks at."""
        now = stamp(db)
        with self._lock:
            kept = self._kept.get(noun.name)
            if kept is None or kept.stamp != now:
                if kept is not None and kept.stamp.count > now.count:  # somebody looked at a later moment
                    return read_all(db, noun)
                first, kept = kept is None, _Kept(now, _brought_up(db, noun, kept, now))
                self._kept[noun.name] = kept
                if first:
                    gc.freeze()  # what is remembered is not looked through for rubbish at every question
            return kept.values


def remembered(db: Connection, noun: Noun[T]) -> list[T]:
    """Return all of a noun, from memory where this connection has one and nothing touched them since."""
    memory: Memory | None = db.get_execution_options().get(MEMORY)
    return list(read_all(db, noun) if memory is None else memory.recall(db, noun))


def read_all(db: Connection, noun: Noun[T]) -> tuple[T, ...]:
    """Read all of a noun at one go: what is new is looked through for rubbish once, at the end."""
    was = gc.isenabled()
    gc.disable()
    try:
        return tuple(noun.read(db, None))
    finally:
        if was:
            gc.enable()


def stamp(db: Connection) -> Stamp:
    """Return the latest change, and how many there are."""
    count = select(func.count()).select_from(changes).scalar_subquery()
    latest = (
        select(changes.c.id, count, changes.c.when, changes.c.what).order_by(changes.c.id.desc()).limit(1)
    )
    row = db.execute(latest).first()
    return Stamp(*row) if row else Stamp()


def _brought_up(db: Connection, noun: Noun[T], kept: _Kept | None, now: Stamp) -> tuple[T, ...]:
    """Return all of a noun as they are now, read anew as far as needed."""
    paints = None if kept is None else _touched_since(db, noun, kept.stamp, now)
    if kept is None or paints is None:
        return read_all(db, noun)
    if not paints:
        return kept.values
    rest = [one for one in kept.values if noun.paint(one) not in paints]
    return tuple(sorted([*rest, *noun.read(db, paints)], key=noun.place))


def _touched_since(db: Connection, noun: Noun[T], then: Stamp, now: Stamp) -> set[str | None] | None:
    """Return the paints that changes since a moment touched, or none where it cannot be said."""
    if now.count - then.count > MOST_CHANGES:
        return None
    table = changes.c
    held = db.execute(select(table.when, table.what).where(table.id == then.number)).first()
    if held is None or tuple(held) != (then.when, then.what):
        return None  # another studio stands in its place, or there was no change yet
    found = db.execute(select(table.steps).where(table.id > then.number)).scalars().all()
    if len(found) != now.count - then.count:
        return None  # a change that was begun earlier ended later
    return touched(db, noun, [step for steps in found for step in steps])


def touched(db: Connection, noun: Noun[T], steps: Sequence[Mapping[str, Any]]) -> set[str | None] | None:
    """Return the paints whose rows some steps touched, or none where these are too many or cannot be said."""
    paints: set[str | None] = set()
    unnamed: dict[str, set[Any]] = {}
    for step in steps:
        table = step["table"]
        if table in noun.shared and ("dropped" in step or noun.shared[table] & step.get("after", {}).keys()):
            return None
        if table not in noun.own:
            continue
        column = noun.own[table]
        for row in _rows_of(step):
            if column in row:
                paints.add(row[column])
            elif "id" in row:
                unnamed.setdefault(table, set()).add(row["id"])
    if len(paints) + sum(map(len, unnamed.values())) > MOST_PAINTS:
        return None
    for name, ids in unnamed.items():
        own = metadata.tables[name].c
        paints |= set(db.execute(select(own[noun.own[name]]).where(own.id.in_(ids))).scalars())
    return paints


def _rows_of(step: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Return the rows a step speaks of, as far as it tells them."""
    if "key" in step:
        return [step["key"], step["before"], step["after"]]
    return list(step.get("added") or step.get("dropped") or ())
