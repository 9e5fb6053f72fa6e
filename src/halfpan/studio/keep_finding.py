"""Keep what was seen by eye about a paint, and list it."""

from __future__ import annotations

from datetime import datetime

from halfpan.collection import changes, findings
from halfpan.collection.findings import KeptFinding
from halfpan.core.paint.finding import Finding
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio


def keep_finding(studio: Studio, text: str, finding: Finding, *, now: datetime, who: str = "") -> Paint:
    """Keep a finding about the paint that a text means; without a date it is of today.

    Raises
    ------
    UnknownPaint, BadRequest
        When no paint answers, or a number is given without the direction of its scale.
    """
    if not finding.quality.strip() or not finding.value.strip():
        raise BadRequest("A finding needs what was looked at and what was seen, such as staining, lifts.")
    if finding.value.strip().isdigit() and not finding.scale.strip():
        raise BadRequest(
            f"{finding.value} says nothing without its scale. Give one, such as “0 to 5, 5 stains most”."
        )
    dated = finding if finding.seen else _on(finding, now)
    with studio.transaction() as db:
        paint = find_paint(db, text)
        with changes.noted(db, f"saw {finding.quality} of {paint.name} by eye", now=now, who=who):
            findings.add(db, paint.id, dated)
        return paint


def list_findings(studio: Studio, text: str = "") -> list[KeptFinding]:
    """Return the findings about one paint, or all, the oldest first.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        return findings.listed(db, find_paint(db, text).id if text else None)


def _on(finding: Finding, now: datetime) -> Finding:
    return Finding(finding.quality, finding.value, finding.scale, finding.paper, now.date(), finding.note)
