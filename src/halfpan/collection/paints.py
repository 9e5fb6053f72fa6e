"""Paints: identity, label as printed, pigments in label order. What lies in the drawer is in ``stock``.

A label is written once, when the paint is added, and never after; corrections go into the other columns.
Removed paints are put away, so that charts and readings that name them keep their meaning.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import makers, rows, serials, stock
from halfpan.collection.tables import makers as makers_table
from halfpan.collection.tables import paint_pigments, ranges
from halfpan.collection.tables import paints as paints_table
from halfpan.core.paint.paint import Label, Paint

EDITABLE = frozenset({"name", "other_names", "series", "favourite", "tags", "notes", "owned"})
LABEL_PARTS = tuple(Label.__dataclass_fields__)


def _picked() -> Select[Any]:
    return (
        select(
            paints_table,
            makers_table.c.name.label("maker_name"),
            ranges.c.name.label("range_name"),
            ranges.c.scales.label("range_scales"),
        )
        .join(ranges, ranges.c.id == paints_table.c.range)
        .join(makers_table, makers_table.c.id == ranges.c.maker)
    )


def _value(row: RowMapping, codes: tuple[str, ...], item: stock.Item | None) -> Paint:
    label = {part: row[f"label_{part}"] for part in LABEL_PARTS}
    label["scales"] = label["scales"] or row["range_scales"]
    held = item or stock.NOTHING
    return Paint(
        id=row["id"],
        maker=row["maker_name"],
        range=row["range_name"],
        name=row["name"],
        codes=codes,
        label=Label(**label),
        other_names=tuple(row["other_names"]),
        form=held.form,
        size_ml=held.size_ml,
        price=held.price,
        currency=held.currency,
        series=row["series"],
        batch=held.batch,
        bought=held.bought,
        amount_left=held.amount_left,
        place=held.place,
        favourite=row["favourite"],
        tags=tuple(row["tags"]),
        notes=row["notes"],
        owned=row["owned"],
    )


def _all_codes(db: Connection, wanted: Iterable[str] | None) -> dict[str, tuple[str, ...]]:
    query = select(paint_pigments.c.paint, paint_pigments.c.code).order_by(
        paint_pigments.c.paint, paint_pigments.c.position
    )
    if wanted is not None:
        query = query.where(paint_pigments.c.paint.in_(list(wanted)))
    codes: dict[str, list[str]] = {}
    for paint, code in db.execute(query):
        codes.setdefault(paint, []).append(code)
    return {paint: tuple(found) for paint, found in codes.items()}


def _gathered(db: Connection, query: Select[Any], *, few: bool) -> list[Paint]:
    found = db.execute(query.order_by(paints_table.c.number)).mappings().all()
    wanted = [row["id"] for row in found] if few else None
    codes = _all_codes(db, wanted)
    items = stock.first_items(db, wanted)
    return [_value(row, codes.get(row["id"], ()), items.get(row["id"])) for row in found]


def listed(db: Connection, *, removed: bool = False) -> list[Paint]:
    """Return all paints by their number, wished ones included (``owned`` tells); or those put away."""
    hidden = paints_table.c.removed.is_not(None) if removed else paints_table.c.removed.is_(None)
    return _gathered(db, _picked().where(hidden), few=False)


def of_ids(db: Connection, ids: Sequence[str]) -> list[Paint]:
    """Return the paints of these ids in the order given, put away or not; unknown ids are left out."""
    wanted = list(dict.fromkeys(ids))
    by_id: dict[str, Paint] = {}
    for start in range(0, len(wanted), 500):
        few = wanted[start : start + 500]
        by_id |= {one.id: one for one in _gathered(db, _picked().where(paints_table.c.id.in_(few)), few=True)}
    return [by_id[one] for one in ids if one in by_id]


def containing(db: Connection, code: str) -> list[Paint]:
    """Return the paints that carry a code, by their number."""
    carriers = select(paint_pigments.c.paint).where(paint_pigments.c.code == code)
    query = _picked().where(paints_table.c.id.in_(carriers), paints_table.c.removed.is_(None))
    return _gathered(db, query, few=True)


def add_all(db: Connection, new: Sequence[Paint], *, now: datetime) -> list[str]:
    """Add paints and return the ids given to them; the ``id`` they came with is not looked at."""
    numbers = serials.take(db, "paint", len(new)) if new else range(0)
    range_ids = makers.ensure_ranges(db, [(one.maker, one.range) for one in new])
    ids = [f"p{number}" for number in numbers]
    rows.add(
        db,
        paints_table,
        [
            _columns(one)
            | {"id": key, "number": number, "range": range_ids[one.maker, one.range], "added": now}
            for one, key, number in zip(new, ids, numbers, strict=True)
        ],
    )
    _add_codes(db, {key: one.codes for key, one in zip(ids, new, strict=True)})
    stock.add_from_paints(db, [(key, one) for key, one in zip(ids, new, strict=True) if one.owned])
    return ids


def _columns(paint: Paint) -> dict[str, Any]:
    label = {f"label_{part}": getattr(paint.label, part) for part in LABEL_PARTS}
    return label | {
        "name": paint.name,
        "other_names": list(paint.other_names),
        "series": paint.series,
        "favourite": paint.favourite,
        "tags": list(paint.tags),
        "notes": paint.notes,
        "owned": paint.owned,
    }


def _add_codes(db: Connection, codes: Mapping[str, Sequence[str]]) -> None:
    values = [
        {"paint": paint, "position": position, "code": code}
        for paint, listed_codes in codes.items()
        for position, code in enumerate(listed_codes)
    ]
    rows.add(db, paint_pigments, values)


def edit(db: Connection, paint: str, **values: Any) -> None:
    """Correct columns of one paint: those in ``EDITABLE``; the label as printed has no way in here."""
    if unknown := values.keys() - EDITABLE:
        raise ValueError(f"not a column that can be corrected: {sorted(unknown)}")
    plain = {name: list(value) if isinstance(value, tuple) else value for name, value in values.items()}
    rows.alter(db, paints_table, {"id": paint}, plain)


def set_codes(db: Connection, paint: str, codes: Sequence[str]) -> None:
    """Correct the pigments of one paint; its label keeps the codes as printed."""
    if _all_codes(db, [paint]).get(paint, ()) != tuple(codes):
        rows.drop(db, paint_pigments, paint_pigments.c.paint == paint)
        _add_codes(db, {paint: codes})


def move_to_range(db: Connection, paint: str, maker: str, range_name: str) -> None:
    """Correct the maker and range of one paint."""
    number = makers.ensure_ranges(db, [(maker, range_name)])[maker, range_name]
    rows.alter(db, paints_table, {"id": paint}, {"range": number})


def put_away(db: Connection, paint: str, *, now: datetime) -> None:
    """Remove a paint from the lists."""
    rows.alter(db, paints_table, {"id": paint}, {"removed": now})


def bring_back(db: Connection, paint: str) -> None:
    """Return a removed paint to the lists under its old number."""
    rows.alter(db, paints_table, {"id": paint}, {"removed": None})
