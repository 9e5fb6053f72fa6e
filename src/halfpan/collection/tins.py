"""Tins as the painter keeps them: the rows of seats, and which pan sits where."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from sqlalchemy import Connection, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import naming, rows
from halfpan.collection.tables import seats as seats_table
from halfpan.collection.tables import tins as tins_table
from halfpan.core.paint.tin import PAN_MM, Tin, tin_of_rows
from halfpan.errors import BadRequest


@dataclass(frozen=True, slots=True)
class Held:
    """What a seat holds: a paint or nothing, whether it stays there, and a note."""

    paint: str | None = None
    locked: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class KeptTin:
    """A tin and what sits in it.

    ``rows`` are its seats as text (see `tin_of_rows`); ``side`` is the painter's word for what belongs in it.
    """

    name: str
    rows: tuple[str, ...]
    id: int = 0
    sizes: Mapping[str, tuple[float, float]] = field(default_factory=lambda: dict(PAN_MM))
    gap_mm: float = 1.0
    notes: str = ""
    held: Mapping[str, Held] = field(default_factory=dict)
    side: str = ""

    @property
    def tin(self) -> Tin:
        """The tin in millimetres."""
        return tin_of_rows(self.name, self.rows, sizes=self.sizes, gap_mm=self.gap_mm)

    @property
    def paints(self) -> tuple[str, ...]:
        """The ids of the paints in it, seat by seat."""
        held = (self.held.get(seat.name, Held()) for seat in self.tin.seats)
        return tuple(one.paint for one in held if one.paint is not None)


def _value(row: RowMapping, held: Mapping[str, Held]) -> KeptTin:
    layout = row["layout"]
    return KeptTin(
        name=row["name"],
        rows=tuple(layout["rows"]),
        id=row["id"],
        sizes={size: (mm[0], mm[1]) for size, mm in layout["sizes"].items()},
        gap_mm=layout["gap_mm"],
        notes=row["notes"],
        held=held,
        side=layout.get("side", ""),
    )


def _layout(tin: KeptTin) -> dict[str, object]:
    sizes = {size: list(mm) for size, mm in tin.sizes.items()}
    named = {"side": tin.side} if tin.side else {}
    return {"rows": list(tin.rows), "sizes": sizes, "gap_mm": tin.gap_mm, **named}


def listed(db: Connection) -> list[KeptTin]:
    """Return all tins by name, with what they hold."""
    held: dict[int, dict[str, Held]] = {}
    for row in db.execute(select(seats_table)).mappings():
        held.setdefault(row["tin"], {})[row["seat"]] = Held(row["paint"], row["locked"], row["note"])
    found = db.execute(select(tins_table).order_by(tins_table.c.name)).mappings()
    return [_value(row, held.get(row["id"], {})) for row in found]


def find(db: Connection, named: str | int) -> KeptTin:
    """Return the tin of a name or number.

    Raises
    ------
    BadRequest
        When there is none.
    """
    return naming.named(listed(db), named, "tin")


def add(db: Connection, tin: KeptTin) -> int:
    """Add a tin and return its number; names are given once."""
    if any(tin.name.casefold() == one.name.casefold() for one in listed(db)):
        raise BadRequest(f"There is a tin “{tin.name}” already.")
    _ = tin.tin  # a layout that makes no sense is refused before anything is kept
    number: int = rows.add_one(db, tins_table, {"name": tin.name, "layout": _layout(tin), "notes": tin.notes})
    seat(db, number, tin.held)
    return number


def edit(db: Connection, tin: KeptTin) -> None:
    """Write a tin's name, side, rows, sizes and notes anew; pans keep seats that are still there."""
    values = {"name": tin.name, "layout": _layout(tin), "notes": tin.notes}
    names = {one.name for one in tin.tin.seats if one.size is not None}
    rows.alter(db, tins_table, {"id": tin.id}, values)
    seat(db, tin.id, {name: one for name, one in tin.held.items() if name in names})


def seat(db: Connection, tin: int, held: Mapping[str, Held]) -> None:
    """Write anew what every seat of a tin holds; seats that hold nothing and are not locked leave no row."""
    old = select(seats_table).where(seats_table.c.tin == tin)
    before = {
        row["seat"]: Held(row["paint"], row["locked"], row["note"]) for row in db.execute(old).mappings()
    }
    after = {name: one for name, one in held.items() if one != Held()}
    table = seats_table
    for name in before.keys() - after.keys():
        rows.drop(db, table, rows.at(table, {"tin": tin, "seat": name}))
    for name in before.keys() & after.keys():
        rows.alter(db, table, {"tin": tin, "seat": name}, _columns(after[name]))
    new = [name for name in after if name not in before]
    rows.add(db, table, [{"tin": tin, "seat": name, **_columns(after[name])} for name in new])


def _columns(held: Held) -> dict[str, object]:
    return {"paint": held.paint, "locked": held.locked, "note": held.note}


def remove(db: Connection, tin: int) -> None:
    """Take a tin apart; its paints stay in the collection."""
    seat(db, tin, {})
    rows.drop(db, tins_table, tins_table.c.id == tin)


def holding(everything: Sequence[KeptTin], paint: str) -> list[tuple[KeptTin, str]]:
    """Return the tins that hold a paint, each with the seat."""
    return [(tin, name) for tin in everything for name, one in tin.held.items() if one.paint == paint]
