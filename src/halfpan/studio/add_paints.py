"""Add a list of paints: shown line by line first, then kept as one change that can be undone.

The same list given twice adds nothing twice. A line that cannot be a paint is named and left out; it never
holds up the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from sqlalchemy import Connection

from halfpan.collection import changes, paints, stock
from halfpan.core.paint.paint import Paint
from halfpan.errors import UnreadableTable
from halfpan.files.tables import Table
from halfpan.studio.listing.columns import Columns, folded, guess_columns
from halfpan.studio.listing.lines import Entry, read_line
from halfpan.studio.listing.makers import with_known_makers
from halfpan.studio.studio import Studio

Outcome = Literal[
    "new",
    "another tube",
    "wish come true",
    "back again",
    "here already",
    "twice in this list",
    "left out",
]
Key = tuple[str, str, str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class ListedLine:
    """A line of the list, what would become of it, and the id of the paint it is or becomes."""

    entry: Entry
    outcome: Outcome
    paint: str | None = None


@dataclass(frozen=True, slots=True)
class PaintList:
    """A list as it was understood: columns, notes on the file, every line with its outcome."""

    columns: Columns
    notes: tuple[str, ...]
    lines: tuple[ListedLine, ...]

    def counted(self, outcome: Outcome) -> int:
        """Return how many lines have an outcome."""
        return sum(line.outcome == outcome for line in self.lines)


def preview_list(
    studio: Studio,
    table: Table,
    *,
    columns: Mapping[str, str] | None = None,
    maker: str = "",
    range_name: str = "",
) -> PaintList:
    """Return what adding a list would do. Nothing is kept."""
    with studio.look() as db:
        return _understood(db, table, columns, maker, range_name)


def add_paints(
    studio: Studio,
    table: Table,
    *,
    now: datetime,
    columns: Mapping[str, str] | None = None,
    maker: str = "",
    range_name: str = "",
    who: str = "",
) -> PaintList:
    """Add the paints of a list and return what became of each line."""
    with studio.transaction() as db:
        understood = _understood(db, table, columns, maker, range_name)
        count = understood.counted("new") + understood.counted("back again")
        with changes.noted(
            db, f"added {count} paint{'' if count == 1 else 's'} from a list", now=now, who=who
        ):
            return _kept(db, understood, now)


def add_paint(studio: Studio, paint: Paint, *, now: datetime, who: str = "") -> str:
    """Add one paint as it is and return its id; one that is here already is not added again."""
    with studio.transaction() as db, changes.noted(db, f"added {paint.name}", now=now, who=who):
        known = held_as(db, paint)
        return known.id if known else paints.add_all(db, [paint], now=now)[0]


def held_as(db: Connection, paint: Paint) -> Paint | None:
    """Return the paint of the collection that is the same by maker, range, name and codes, or none."""
    return next((one for one in paints.listed(db) if _key(one) == _key(paint)), None)


def _key(paint: Paint) -> Key:
    return folded(paint.maker), folded(paint.range), folded(paint.name), paint.codes


def _printed(paint: Paint) -> Key:
    """Return what a removed paint is known again by: its pigments may be gone, its label never."""
    return folded(paint.maker), folded(paint.range), folded(paint.name), (folded(paint.label.codes),)


def _item_key(item: stock.Item) -> tuple[object, ...]:
    return item.form, item.size_ml, item.batch, item.bought


def _understood(
    db: Connection, table: Table, columns: Mapping[str, str] | None, maker: str, range_name: str
) -> PaintList:
    if not table.rows:
        raise UnreadableTable("There is no line in the list; it needs one for each paint, with its name.")
    found = guess_columns(table.rows, columns)
    rows = table.rows[found.first_row :]
    entries = [read_line(row, found, maker=maker, range_name=range_name) for row in rows]
    everything = paints.listed(db)
    entries, apart = with_known_makers(entries, {one.maker for one in everything})
    notes = (*table.notes, apart) if apart else table.notes
    return PaintList(found, notes, tuple(_with_outcomes(db, entries, everything)))


def _with_outcomes(
    db: Connection, entries: Iterable[Entry], everything: Sequence[Paint]
) -> Iterable[ListedLine]:
    held = {_key(one): one.id for one in everything}
    wished = {one.id for one in everything if not one.owned}
    away = {_printed(one): one.id for one in paints.listed(db, removed=True)}
    items: dict[str, set[tuple[object, ...]]] = {}
    for item in stock.listed(db, gone=True):
        items.setdefault(item.paint, set()).add(_item_key(item))
    seen: set[tuple[object, ...]] = set()
    named: set[Key] = set()
    for entry in entries:
        if entry.paint is None:
            yield ListedLine(entry, "left out")
            continue
        key, tube = _key(entry.paint), _item_key(stock.from_paint(entry.paint))
        known = held.get(key)
        if (key, tube) in seen:
            yield ListedLine(entry, "twice in this list", known)
        elif known in wished and entry.paint.owned:
            yield ListedLine(entry, "wish come true", known)
        elif known is not None and _adds_a_tube(entry.paint, tube, items.get(known, set())):
            yield ListedLine(entry, "another tube", known)
        elif known is not None or key in named:
            yield ListedLine(entry, "here already" if known else "another tube", known)
        else:
            returning = away.get(_printed(entry.paint))
            yield ListedLine(entry, "back again" if returning else "new", returning)
        seen.add((key, tube))
        named.add(key)


def _adds_a_tube(paint: Paint, tube: tuple[object, ...], held: set[tuple[object, ...]]) -> bool:
    return paint.owned and any(tube) and tube not in held


def _kept(db: Connection, understood: PaintList, now: datetime) -> PaintList:
    ids: dict[Key, str] = {}
    new = [line.entry.paint for line in understood.lines if line.outcome == "new" and line.entry.paint]
    ids.update(zip(map(_key, new), paints.add_all(db, new, now=now), strict=True))
    kept = []
    for line in understood.lines:
        paint = line.entry.paint
        known = line.paint or (ids.get(_key(paint)) if paint else None)
        if line.outcome == "back again" and known and paint:
            _bring_back(db, known, paint)
        elif line.outcome in {"another tube", "wish come true"} and known and paint:
            paints.edit(db, known, owned=True)
            stock.add(db, known, stock.from_paint(paint))
        kept.append(replace(line, paint=known))
    return replace(understood, lines=tuple(kept))


def _bring_back(db: Connection, known: str, paint: Paint) -> None:
    paints.bring_back(db, known)
    paints.set_codes(db, known, paint.codes)
    item = stock.from_paint(paint)
    if paint.owned and _item_key(item) not in map(_item_key, stock.listed(db, known, gone=True)):
        stock.add(db, known, item)
