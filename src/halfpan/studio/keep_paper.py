"""Keep the papers that are painted on; readings on different papers are no equals."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from halfpan.collection import changes, papers
from halfpan.collection.papers import Paper
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest
from halfpan.studio.studio import Studio

HEAVIEST_GSM = 5000


def list_papers(studio: Studio) -> list[Paper]:
    """Return all papers by name."""
    with studio.look() as db:
        return papers.listed(db)


def measured_papers(studio: Studio) -> list[str]:
    """Return the names of the papers whose white was measured, which a mix can be predicted on."""
    return [one.name for one in list_papers(studio) if one.lab is not None]


def add_paper(studio: Studio, paper: Paper, *, now: datetime, who: str = "") -> Paper:
    """Keep a paper.

    Raises
    ------
    BadRequest
        When it has no name, its name is taken, its weight is no weight or its white is no white.
    """
    if not paper.name.strip():
        raise BadRequest("A paper needs a name, such as “Block 300”.")
    if paper.weight_gsm is not None and not 0 < paper.weight_gsm < HEAVIEST_GSM:
        raise BadRequest(
            f"{paper.weight_gsm:g} is no weight of a paper; give grams a square metre, such as 300."
        )
    _check_white(paper.lab)
    with studio.transaction() as db, changes.noted(db, f"added the paper {paper.name}", now=now, who=who):
        return replace(paper, id=papers.add(db, paper))


def set_white(studio: Studio, named: str, lab: Lab, *, now: datetime, who: str = "") -> Paper:
    """Note the measured white of a paper; charts on it are read against it from then on.

    Raises
    ------
    BadRequest
    """
    _check_white(lab)
    with studio.transaction() as db, changes.noted(db, f"measured the paper {named}", now=now, who=who):
        paper = replace(papers.find(db, named), lab=lab)
        papers.edit(db, paper)
        return paper


def _check_white(lab: Lab | None) -> None:
    if lab is not None and not (60 <= lab[0] <= 102 and max(abs(lab[1]), abs(lab[2])) <= 25):
        raise BadRequest(f"L* a* b* of {lab[0]:g}, {lab[1]:g}, {lab[2]:g} is not the white of a paper.")
