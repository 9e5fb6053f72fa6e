"""Papers: each its own white, texture, weight and surface; readings on different papers are no equals."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import naming, rows
from halfpan.collection.tables import papers as papers_table
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper as painted on. ``lab`` is its own white where it was measured; ``texture`` its bare grain."""

    name: str
    id: int = 0
    maker: str = ""
    surface: str = ""
    weight_gsm: float | None = None
    lab: Lab | None = None
    texture: float | None = None
    notes: str = ""


def _columns(paper: Paper) -> dict[str, Any]:
    lab = paper.lab or (None, None, None)
    return {
        "name": paper.name,
        "maker": paper.maker,
        "surface": paper.surface,
        "weight_gsm": paper.weight_gsm,
        "lab_l": lab[0],
        "lab_a": lab[1],
        "lab_b": lab[2],
        "texture": paper.texture,
        "notes": paper.notes,
    }


def _value(row: RowMapping) -> Paper:
    lab = (row["lab_l"], row["lab_a"], row["lab_b"])
    plain = {name: row[name] for name in ("id", "name", "maker", "surface", "weight_gsm", "texture", "notes")}
    return Paper(lab=None if None in lab else lab, **plain)


def listed(db: Connection) -> list[Paper]:
    """Return all papers by name."""
    return [_value(row) for row in db.execute(select(papers_table).order_by(papers_table.c.name)).mappings()]


def find(db: Connection, named: str | int) -> Paper:
    """Return the paper of a name or number.

    Raises
    ------
    BadRequest
        When there is none.
    """
    return naming.named(listed(db), named, "paper")


def add(db: Connection, paper: Paper) -> int:
    """Add a paper and return its number; names are given once."""
    if any(paper.name.casefold() == one.name.casefold() for one in listed(db)):
        raise BadRequest(f"There is a paper “{paper.name}” already.")
    number: int = rows.add_one(db, papers_table, _columns(paper))
    return number


def edit(db: Connection, paper: Paper) -> None:
    """Write a paper anew under its number."""
    rows.alter(db, papers_table, {"id": paper.id}, _columns(paper))
