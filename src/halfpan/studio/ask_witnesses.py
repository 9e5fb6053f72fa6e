"""Label, literature and proof on one paint, side by side."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import findings
from halfpan.collection.findings import KeptFinding
from halfpan.core.paint.cautions import Caution, cautions
from halfpan.core.paint.checking import Checked
from halfpan.core.paint.contents import Contents, contents
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch
from halfpan.core.paint.witness import Statement
from halfpan.studio.check_labels import check_paint
from halfpan.studio.find_paint import find_paint
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Asked:
    """All three witnesses on a paint, what is in it, its label's remarks, cautions, and what was seen."""

    paint: Paint
    swatch: Swatch | None
    contents: Contents
    checked: Checked
    statements: tuple[Statement, ...]
    cautions: tuple[Caution, ...]
    findings: tuple[KeptFinding, ...]


def ask_witnesses(studio: Studio, text: str) -> Asked:
    """Return what label, literature and proof say about the paint that a text means.

    Raises
    ------
    UnknownPaint
    """
    with studio.look() as db:
        meant = find_paint(db, text)
        (painted,) = painted_paints(db, [meant])
        seen = tuple(findings.listed(db, meant.id))
    return Asked(
        meant,
        painted.swatch,
        contents(meant.name, meant.codes),
        check_paint(meant),
        painted.statements(),
        cautions(meant),
        seen,
    )
