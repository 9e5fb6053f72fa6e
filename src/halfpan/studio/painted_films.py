"""Accepted readings as painted films: what the model of mixes learns from, without any further entry.

A reading with amounts is a step of a ladder or a mix. The boxes of a chart are films of unknown strength:
masstone and black line are one brushful, mid and tint some points of the stroke that thins out.
"""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from halfpan.collection import papers, readings
from halfpan.collection.readings import KeptReading
from halfpan.core.mixing.learnt import weakest_swatch
from halfpan.core.mixing.observation import (
    BLACK_LINE,
    PLAIN_PAPER,
    Amounts,
    Observation,
    Recipe,
    wash_of,
)
from halfpan.core.mixing.predict import FULL_STRENGTH
from halfpan.core.paint.reading import Lab

MIX_LOG = "mix log"
# Zone: part of a full-strength wash it is first taken for, and what is known of that.
ZONES: dict[str, tuple[float, Amounts]] = {
    "masstone": (1.0, "full"),
    "black line": (1.0, "full"),
    "mid": (0.25, "graded"),
    "tint": (0.08, "graded"),
}


def painted_films(db: Connection) -> tuple[tuple[Observation, ...], float | None]:
    """Return all accepted films, and the amount counted as 1 (none where no amount was ever measured)."""
    accepted = readings.listed(db, state="accepted")
    whites = {paper.id: paper.lab for paper in papers.listed(db) if paper.lab is not None}
    counting = {one.id for one in readings.counting(db).values()}
    measured = [_measured(one, whites) for one in accepted if one.amounts and not _by_parts(one)]
    unit = weakest_swatch(measured) if measured else None
    full = FULL_STRENGTH * (unit or 1.0)
    boxes = [
        _of_box(one, whites, full)
        for one in accepted
        if one.reading.zone in ZONES and (one.id in counting or (one.amounts and _by_parts(one)))
    ]
    return (*measured, *boxes), unit


def _by_parts(one: KeptReading) -> bool:
    """Say whether the amounts are only parts of a wash whose strength nobody measured."""
    return one.chart is not None or one.source == MIX_LOG


def _measured(one: KeptReading, whites: dict[int, Lab]) -> Observation:
    return Observation(
        recipe=Recipe((wash_of(*one.amounts),), _ground(one, whites)),
        lab=one.reading.lab,
        reflectance=one.reflectance,
        within_delta_e00=one.reading.within_delta_e00,
        occasion=one.source,
        box=one.reading.box or f"{one.source} row {one.source_row}".strip(),
    )


def _of_box(one: KeptReading, whites: dict[int, Lab], full: float) -> Observation:
    wash = wash_of(*(one.amounts or ((one.reading.paint or "", 1.0),)))
    share, amounts = ZONES[one.reading.zone]
    scale = full * share / sum(amount for _, amount in wash)
    box = " ".join(part for part in (one.chart or one.source, one.reading.box) if part) or f"reading {one.id}"
    return Observation(
        recipe=Recipe((tuple((paint, amount * scale) for paint, amount in wash),), _ground(one, whites)),
        lab=one.reading.lab,
        reflectance=one.reflectance,
        amounts=amounts,
        within_delta_e00=one.reading.within_delta_e00,
        occasion=one.chart or one.source,
        wash=f"{box} {one.reading.zone if amounts == 'graded' else 'full'} {wash}",
        box=box,
    )


def _ground(one: KeptReading, whites: dict[int, Lab]) -> Lab:
    if one.ground == "black":
        return BLACK_LINE
    return one.paper_lab or whites.get(one.paper or 0) or PLAIN_PAPER


def usual_paper(films: Sequence[Observation]) -> Lab:
    """Return the paper most films lie on; plain paper where nothing was painted."""
    papers_seen = [
        o.recipe.ground for o in films if len(o.recipe.ground) == 3 and o.recipe.ground != BLACK_LINE
    ]
    counted = {ground: papers_seen.count(ground) for ground in dict.fromkeys(papers_seen)}
    most = max(counted, key=lambda ground: counted[ground], default=PLAIN_PAPER)
    return most[0], most[1], most[2]
