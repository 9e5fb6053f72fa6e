"""The log of mixes: what was painted with what parts, on what paper, and how it turned out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.tables import mix_parts as parts_table
from halfpan.collection.tables import mixes as mixes_table


@dataclass(frozen=True, slots=True)
class KeptMix:
    """One mix that was painted. ``reading`` and ``photo`` lead to how it looked, where that was kept."""

    parts: tuple[tuple[str, float], ...]
    painted: datetime
    id: int = 0
    name: str = ""
    paper: int | None = None
    photo: str | None = None
    reading: int | None = None
    notes: str = ""


def add(db: Connection, mix: KeptMix) -> int:
    """Keep a mix and return its number."""
    values: dict[str, Any] = {
        "name": mix.name,
        "kind": "mix",
        "paper": mix.paper,
        "photo": mix.photo,
        "reading": mix.reading,
        "painted": mix.painted,
        "notes": mix.notes,
    }
    number: int = rows.add_one(db, mixes_table, values)
    parts = [
        {"mix": number, "position": at, "paint": paint, "parts": amount}
        for at, (paint, amount) in enumerate(mix.parts)
    ]
    rows.add(db, parts_table, parts)
    return number


def listed(db: Connection) -> list[KeptMix]:
    """Return all mixes, newest first."""
    held: dict[int, list[tuple[str, float]]] = {}
    query = select(parts_table).order_by(parts_table.c.mix, parts_table.c.position)
    for row in db.execute(query).mappings():
        held.setdefault(row["mix"], []).append((row["paint"], row["parts"]))
    found = db.execute(select(mixes_table).order_by(mixes_table.c.painted.desc(), mixes_table.c.id.desc()))
    plain = ("painted", "id", "name", "paper", "photo", "reading", "notes")
    return [
        KeptMix(tuple(held.get(row["id"], ())), **{name: row[name] for name in plain})
        for row in found.mappings()
    ]


def with_paint(mixes: Sequence[KeptMix], paint: str) -> list[KeptMix]:
    """Return the mixes that hold a paint."""
    return [mix for mix in mixes if any(part == paint for part, _ in mix.parts)]
