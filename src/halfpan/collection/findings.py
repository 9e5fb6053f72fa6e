"""What painters saw by eye, dated, on which paper. A finding is proof too; a newer one stands beside it."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, select

from halfpan.collection import rows
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
    table = findings_table
    query = (
        select(table, papers.c.name.label("paper_name"))
        .outerjoin(papers, papers.c.id == table.c.paper)
        .order_by(table.c.seen, table.c.id)
    )
    if paint is not None:
        query = query.where(table.c.paint == paint)
    return [
        KeptFinding(
            row["id"],
            row["paint"],
            Finding(
                row["property"], row["value"], row["scale"], row["paper_name"] or "", row["seen"], row["note"]
            ),
        )
        for row in db.execute(query).mappings()
    ]
