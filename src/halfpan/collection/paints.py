"""Paints: identity, label as printed, pigments in label order. What lies in the drawer is in ``stock``.

A label is written once, when the paint is added, and never after; corrections go into the other columns.
Removed paints are put away, so that charts and readings that name them keep their meaning.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, func, select

from halfpan.collection import makers, rows, serials, stock
from halfpan.collection.memory import Noun, remembered
from halfpan.collection.tables import makers as makers_table
from halfpan.collection.tables import paint_pigments, ranges
from halfpan.collection.tables import paints as paints_table
from halfpan.collection.tables import stock as stock_table
from halfpan.core.paint.paint import Label, Paint

EDITABLE = frozenset({"name", "other_names", "series", "favourite", "tags", "notes", "owned"})
LABEL_PARTS = tuple(Label.__dataclass_fields__)


def _picked() -> Select[Any]:
    """Ask for everything a paint says, with the oldest tube or pan of it that is still there."""
    other = stock_table.alias()
    oldest = (
        select(func.min(other.c.id))
        .where(other.c.paint == paints_table.c.id, other.c.gone.is_(None))
        .scalar_subquery()
    )
    own, held = paints_table.c, stock_table.c
    return (
        select(
            own.id, makers_table.c.name, ranges.c.name, own.name, own.other_names,
            held.form, held.size_ml, held.price, held.currency,
            own.series, held.batch, held.bought, held.amount_left, held.place,
            own.favourite, own.tags, own.notes, own.owned, ranges.c.scales,
            *(own[f"label_{part}"] for part in LABEL_PARTS),
        )
        .join(ranges, ranges.c.id == own.range)
        .join(makers_table, makers_table.c.id == ranges.c.maker)
        .outerjoin(stock_table, held.id == oldest)
    )  # fmt: skip


def _value(row: Sequence[Any], codes: tuple[str, ...]) -> Paint:
    (
        key, maker, range_name, name, other_names, form, size_ml, price, currency, series, batch, bought,
        amount_left, place, favourite, tags, notes, owned, scales, *printed,
    ) = row  # fmt: skip
    label = Label(*printed)
    return Paint(
        id=key,
        maker=maker,
        range=range_name,
        name=name,
        codes=codes,
        label=label if label.scales or not scales else replace(label, scales=scales),
        other_names=tuple(other_names),
        form=form or "",
        size_ml=size_ml,
        price=price,
        currency=currency or "",
        series=series,
        batch=batch or "",
        bought=bought,
        amount_left=amount_left,
        place=place or "",
        favourite=favourite,
        tags=tuple(tags),
        notes=notes,
        owned=owned,
    )


def _all_codes(db: Connection, wanted: Iterable[str] | None) -> dict[str, tuple[str, ...]]:
    query = select(paint_pigments.c.paint, paint_pigments.c.code).order_by(
        paint_pigments.c.paint, paint_pigments.c.position
    )
    if wanted is not None:
        query = query.where(paint_pigments.c.paint.in_(list(wanted)))
    codes: dict[str, list[str]] = {}
    for paint, code in db.execute(query).all():
        codes.setdefault(paint, []).append(code)
    return {paint: tuple(found) for paint, found in codes.items()}


def _gathered(db: Connection, query: Select[Any], *, few: bool) -> list[Paint]:
    found = db.execute(query.order_by(paints_table.c.number)).all()
    codes = _all_codes(db, [row[0] for row in found] if few else None)
    return [_value(row, codes.get(row[0], ())) for row in found]


def listed(db: Connection, *, removed: bool = False) -> list[Paint]:
    """Return all paints by their number, wished ones included (``owned`` tells); or those put away."""
    if removed:
        return _gathered(db, _picked().where(paints_table.c.removed.is_not(None)), few=False)
    return remembered(db, LISTED)


def _read(db: Connection, wanted: Collection[str | None] | None) -> list[Paint]:
    query = _picked().where(paints_table.c.removed.is_(None))
    if wanted is None:
        return _gathered(db, query, few=False)
    ids = [one for one in wanted if one is not None]
    return _gathered(db, query.where(paints_table.c.id.in_(ids)), few=True)


LISTED = Noun(
    "paints",
    read=_read,
    paint=lambda one: one.id,
    place=lambda one: int(one.id[1:]),
    own={"paints": "id", "paint_pigments": "paint", "stock": "paint"},
    shared={"ranges": {"name", "maker", "scales"}, "makers": {"name"}},
)
"""The paints that are not put away, by their number."""


def added_since(db: Connection, moment: datetime) -> dict[str, datetime]:
    """Return the owned paints that came after a moment, by id, with when they came."""
    table = paints_table
    query = select(table.c.id, table.c.added).where(
        table.c.added > moment, table.c.owned, table.c.removed.is_(None)
    )
    return {row.id: row.added for row in db.execute(query.order_by(table.c.added, table.c.number))}


def of_ids(db: Connection, ids: Sequence[str]) -> list[Paint]:
    """Return the paints of these ids in the order given, put away or not; unknown ids are left out."""
    wanted = list(dict.fromkeys(ids))
    by_id: dict[str, Paint] = {}
    for start in range(0, len(wanted), 500):
        few = wanted[start : start + 500]
        by_id |= {one.id: one for one in _gathered(db, _picked().where(paints_table.c.id.in_(few)), few=True)}
    return [by_id[one] for one in ids if one in by_id]


def at_hand(db: Connection, paint: str) -> Paint | None:
    """Return the paint of an id, or none where there is none or it is put away."""
    query = _picked().where(paints_table.c.id == paint, paints_table.c.removed.is_(None))
    return next(iter(_gathered(db, query, few=True)), None)


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


def _add_codes(db: Connection, codes: Mapping[str, Sequence[str]], *, start: int = 0) -> None:
    values = [
        {"paint": paint, "position": position, "code": code}
        for paint, listed_codes in codes.items()
        for position, code in enumerate(listed_codes)
        if position >= start
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
    before = _all_codes(db, [paint]).get(paint, ())
    for position, (old, new) in enumerate(zip(before, codes, strict=False)):
        if old != new:
            rows.alter(db, paint_pigments, {"paint": paint, "position": position}, {"code": new})
    over = paint_pigments.c.position >= len(codes)
    rows.drop(db, paint_pigments, (paint_pigments.c.paint == paint) & over)
    _add_codes(db, {paint: codes}, start=len(before))


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
