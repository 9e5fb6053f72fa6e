"""Makers and their ranges: found by name, made when new."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.tables import makers, ranges


@dataclass(frozen=True, slots=True)
class MakerRange:
    """One range of one maker, and which way its printed scales run, where that was noted."""

    id: int
    maker: str
    range: str
    scales: str = ""


def listed(db: Connection) -> list[MakerRange]:
    """Return all ranges, makers in alphabetical order."""
    joined = select(ranges.c.id, makers.c.name, ranges.c.name.label("range"), ranges.c.scales).join(
        makers, makers.c.id == ranges.c.maker
    )
    found = [MakerRange(*row) for row in db.execute(joined)]
    return sorted(found, key=lambda one: (one.maker.casefold(), one.range.casefold()))


def ensure_ranges(db: Connection, wanted: Iterable[tuple[str, str]]) -> dict[tuple[str, str], int]:
    """Return the number of each (maker, range), adding those that are new."""
    held = {(one.maker, one.range): one.id for one in listed(db)}
    new = [pair for pair in dict.fromkeys(wanted) if pair not in held]
    maker_ids = {name: number for number, name in db.execute(select(makers.c.id, makers.c.name))}
    for maker in dict.fromkeys(maker for maker, _ in new):
        if maker not in maker_ids:
            maker_ids[maker] = rows.add_one(db, makers, {"name": maker})
    added = rows.add(db, ranges, [{"maker": maker_ids[maker], "name": name} for maker, name in new])
    return held | {pair: key["id"] for pair, key in zip(new, added, strict=True)}


def set_scales(db: Connection, maker: str, range_name: str, scales: str) -> None:
    """Note which way the printed scales of a range run."""
    number = ensure_ranges(db, [(maker, range_name)])[maker, range_name]
    rows.alter(db, ranges, {"id": number}, {"scales": scales})
