"""What painters saw by eye, dated, on which paper. A finding is proof too; a newer one stands beside it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.memory import Noun, remembered
from halfpan.collection.tables import findings as findings_table
from halfpan.collection.tables import papers
from halfpan.core.paint.finding import Finding


@dataclass(frozen=True, slots=True)
class KeptFinding:
    """A finding and the paint it is about."""

    id: int
    paint: str
    finding: Finding


def add(db: Connection, paint: str, finding: Finding) -> int:
    """Keep a finding and return its number; its paper is linked where the studio knows it by that name."""
    known = select(papers.c.id).where(papers.c.name == finding.paper)
    paper = db.execute(known).scalar() if finding.paper else None
    note = finding.note if paper is not None or not finding.paper else f"on {finding.paper}. {finding.note}"
    values = {
        "paint": paint,
        "property": finding.quality,
        "value": finding.value,
        "scale": finding.scale,
        "paper": paper,
        "seen": finding.seen,
        "note": note.strip(),
    }
    return int(rows.add_one(db, findings_table, values))


def listed(db: Connection, paint: str | None = None) -> list[KeptFinding]:
    """Return findings, the oldest first, of one paint or of all."""
    return remembered(db, FOUND) if paint is None else _read(db, [paint])


def _read(db: Connection, wanted: Collection[str | None] | None) -> list[KeptFinding]:
    table = findings_table
    query = (
        select(
            table.c.id, table.c.paint, table.c.property, table.c.value, table.c.scale,
            papers.c.name, table.c.seen, table.c.note,
        )
        .outerjoin(papers, papers.c.id == table.c.paper)
        .order_by(table.c.seen, table.c.id)
    )  # fmt: skip
    if wanted is not None:
        query = query.where(table.c.paint.in_([one for one in wanted if one is not None]))
    return [
        KeptFinding(number, of, Finding(quality, value, scale, paper or "", seen, note))
        for number, of, quality, value, scale, paper, seen, note in db.execute(query).all()
    ]


FOUND = Noun(
    "findings",
    read=_read,
    paint=lambda one: one.paint,
    place=lambda one: (one.finding.seen, one.id),
    own={"findings": "paint"},
    shared={"papers": {"name"}},
)
"""All findings, the oldest first."""
