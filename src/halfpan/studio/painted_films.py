"""Accepted readings as painted films: what the model of mixes learns from, without any further entry.

A reading with amounts is a step of a ladder or a mix. The boxes of a chart are films of unknown strength:
masstone and black line are one brushful, mid and tint some points of the stroke that thins out.
"""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from halfpan.collection import charts, papers, readings
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

# Zone: part of a full-strength wash it is first taken for, and what is known of that.
ZONES: dict[str, tuple[float, Amounts]] = {
    "masstone": (1.0, "unknown"),
    "black line": (1.0, "unknown"),
    "mid": (0.25, "graded"),
    "tint": (0.08, "graded"),
}


def painted_films(db: Connection) -> tuple[tuple[Observation, ...], float | None]:
    """Return all accepted films, and the amount counted as 1 (none where no amount was ever measured)."""
    accepted = readings.listed(db, state="accepted")
    whites = {paper.id: paper.lab for paper in papers.listed(db) if paper.lab is not None}
    parts = _parts_of_boxes(db, {one.chart for one in accepted if one.chart})
    measured = [_measured(one, whites) for one in accepted if one.amounts and one.chart is None]
    unit = weakest_swatch(measured) if measured else None
    counting = {one.id for one in readings.counting(db).values()}
    boxes = [
        film
        for one in accepted
        if one.reading.zone in ZONES and (one.id in counting or _is_mix(one, parts))
        if (film := _of_box(one, parts, whites, FULL_STRENGTH * (unit or 1.0))) is not None
    ]
    return (*measured, *boxes), unit


def _is_mix(one: KeptReading, parts: dict[tuple[str, str], tuple[tuple[str, float], ...]]) -> bool:
    return one.chart is not None and bool(one.amounts or parts.get((one.chart, one.reading.box)))


def _parts_of_boxes(db: Connection, wanted: set[str]) -> dict[tuple[str, str], tuple[tuple[str, float], ...]]:
    """Return the parts of every box of mixes on some charts."""
    return {
        (chart, box.box): tuple((part.paint, part.parts) for part in box.mix)
        for chart in sorted(wanted)
        for page in charts.find(db, chart).chart.pages
        for box in page.boxes
        if box.mix
    }


def _measured(one: KeptReading, whites: dict[int, Lab]) -> Observation:
    return Observation(
        recipe=Recipe((wash_of(*one.amounts),), _ground(one, whites)),
        lab=one.reading.lab,
        reflectance=one.reflectance,
        within_delta_e00=one.reading.within_delta_e00,
        occasion=one.source,
        box=one.reading.box or f"{one.source} row {one.source_row}".strip(),
    )


def _of_box(
    one: KeptReading,
    parts: dict[tuple[str, str], tuple[tuple[str, float], ...]],
    whites: dict[int, Lab],
    full: float,
) -> Observation | None:
    mix = one.amounts or parts.get((one.chart or "", one.reading.box), ())
    if not mix and one.reading.paint is None:
        return None
    wash = wash_of(*(mix or ((one.reading.paint or "", 1.0),)))
    share, amounts = ZONES[one.reading.zone]
    scale = full * share / sum(amount for _, amount in wash)
    box = f"{one.chart} {one.reading.box}" if one.chart else one.reading.box
    return Observation(
        recipe=Recipe((tuple((paint, amount * scale) for paint, amount in wash),), _ground(one, whites)),
        lab=one.reading.lab,
        reflectance=one.reflectance,
        amounts=amounts,
        within_delta_e00=one.reading.within_delta_e00,
        occasion=one.chart or one.source,
        wash=f"{box} {one.reading.zone if amounts == 'graded' else 'full'}",
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
