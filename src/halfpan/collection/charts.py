"""Charts: their geometry as printed, and box by box what each is for now and how far it is painted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, func, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import rows
from halfpan.collection.tables import boxes as boxes_table
from halfpan.collection.tables import charts as charts_table
from halfpan.collection.tables import page_reads
from halfpan.core.chart.sheet import Chart, Part, chart_to_dict, dict_to_chart
from halfpan.errors import UnknownChart


@dataclass(frozen=True, slots=True)
class KeptChart:
    """A chart and its history. Boxes carry the paint they are for now, assigned spare boxes included."""

    chart: Chart
    made: datetime
    title: str = ""
    paper: int | None = None
    painted: date | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class BoxState:
    """One box of a chart: what it is for, whether it is painted, and a line written at the table."""

    page: int
    box: str
    paint: str | None
    label: str
    painted: bool
    note: str
    mix: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True)
class ChartState:
    """A chart as a list shows it: how many boxes are for a paint, painted, and read."""

    chart: str
    kind: str
    title: str
    made: datetime
    pages: int
    paints: int
    painted: int
    reads: int


def add(db: Connection, chart: Chart, *, now: datetime, title: str = "", paper: int | None = None) -> None:
    """Keep a chart with all its boxes."""
    document = chart_to_dict(chart)
    rows.add(
        db,
        charts_table,
        [
            {
                "id": chart.chart,
                "kind": chart.kind,
                "title": title,
                "geometry": document,
                "paper": paper,
                "made": now,
            }
        ],
    )
    values = [
        {
            "chart": chart.chart,
            "page": page["page"],
            "box": box["box"],
            "paint": box.get("paint"),
            "label": box.get("label", ""),
            "mix": box.get("mix"),
        }
        for page in document["pages"]
        for box in page["boxes"]
    ]
    rows.add(db, boxes_table, values)


def find(db: Connection, chart: str) -> KeptChart:
    """Return a chart by its id, whatever the case of its letters.

    Raises
    ------
    UnknownChart
        When this studio has no such chart.
    """
    table = charts_table
    query = select(table).where(func.upper(table.c.id) == chart.strip().upper(), table.c.removed.is_(None))
    row = db.execute(query).mappings().first()
    if row is None:
        held = ", ".join(one.chart for one in listed(db)[:8]) or "none yet"
        raise UnknownChart(f"There is no chart “{chart}” in this studio; its charts are: {held}.")
    assigned = _assigned(dict_to_chart(row["geometry"]), _states(db, row["id"]))
    return KeptChart(assigned, row["made"], row["title"], row["paper"], row["painted"], row["place"])


def _assigned(chart: Chart, now: Mapping[tuple[int, str], BoxState]) -> Chart:
    pages = []
    for page in chart.pages:
        held = [(box, now[page.page, box.box]) for box in page.boxes]
        boxes = tuple(replace(box, paint=state.paint, label=state.label) for box, state in held)
        pages.append(replace(page, boxes=boxes))
    return replace(chart, pages=tuple(pages))


def box_states(db: Connection, chart: str) -> list[BoxState]:
    """Return the boxes of a chart, page by page, in the order they were ruled."""
    found = _states(db, chart)
    geometry = db.execute(select(charts_table.c.geometry).where(charts_table.c.id == chart)).scalar_one()
    ruled = [(page["page"], box["box"]) for page in geometry["pages"] for box in page["boxes"]]
    return [found[key] for key in ruled]


def _states(db: Connection, chart: str) -> dict[tuple[int, str], BoxState]:
    table = boxes_table
    query = select(
        table.c.page, table.c.box, table.c.paint, table.c.label, table.c.painted, table.c.note, table.c.mix
    ).where(table.c.chart == chart)
    return {(row["page"], row["box"]): _box_state(row) for row in db.execute(query).mappings()}


def _box_state(row: RowMapping) -> BoxState:
    mix = tuple(Part(part["paint"], part["parts"]) for part in row["mix"] or ())
    return BoxState(**{**row, "mix": mix})


def listed(db: Connection) -> list[ChartState]:
    """Return all charts, newest first."""
    counts = (
        select(
            boxes_table.c.chart,
            func.max(boxes_table.c.page).label("pages"),
            func.count(boxes_table.c.paint).label("paints"),
            func.count(boxes_table.c.box).filter(boxes_table.c.painted).label("painted"),
        )
        .group_by(boxes_table.c.chart)
        .subquery()
    )
    reads = select(page_reads.c.chart, func.count().label("reads")).group_by(page_reads.c.chart).subquery()
    table = charts_table
    query = (
        select(
            table.c.id, table.c.kind, table.c.title, table.c.made,
            counts.c.pages, counts.c.paints, counts.c.painted, func.coalesce(reads.c.reads, 0),
        )
        .join(counts, counts.c.chart == table.c.id)
        .outerjoin(reads, reads.c.chart == table.c.id)
        .where(table.c.removed.is_(None))
        .order_by(table.c.made.desc(), table.c.id)
    )  # fmt: skip
    return [ChartState(*row) for row in db.execute(query)]


def ticked_boxes(db: Connection) -> dict[str, set[tuple[int, str]]]:
    """Return, by chart, the boxes (page, box) that are ticked as painted."""
    found: dict[str, set[tuple[int, str]]] = {}
    query = select(boxes_table.c.chart, boxes_table.c.page, boxes_table.c.box).where(boxes_table.c.painted)
    for chart, page, box in db.execute(query):
        found.setdefault(chart, set()).add((page, box))
    return found


def with_paint(db: Connection, paint: str) -> list[tuple[str, int, str]]:
    """Return (chart, page, box) of every box that is for a paint."""
    table = boxes_table
    query = select(table.c.chart, table.c.page, table.c.box).where(table.c.paint == paint)
    return [(row.chart, row.page, row.box) for row in db.execute(query.order_by(table.c.chart, table.c.page))]


def assign(db: Connection, chart: str, page: int, box: str, *, paint: str | None, label: str) -> None:
    """Say what a box is for."""
    rows.alter(db, boxes_table, {"chart": chart, "page": page, "box": box}, {"paint": paint, "label": label})


def note_box(
    db: Connection, chart: str, page: int, box: str, *, painted: bool | None = None, note: str | None = None
) -> None:
    """Tick a box as painted, or write a line beside it."""
    values = {"painted": painted, "note": note}
    given = {name: value for name, value in values.items() if value is not None}
    rows.alter(db, boxes_table, {"chart": chart, "page": page, "box": box}, given)


def edit(db: Connection, chart: str, **values: Any) -> None:
    """Change a chart's title, paper, place or the day it was painted."""
    if unknown := values.keys() - {"title", "paper", "place", "painted"}:
        raise ValueError(f"not to be changed on a chart: {sorted(unknown)}")
    rows.alter(db, charts_table, {"id": chart}, values)


def put_away(db: Connection, chart: str, *, now: datetime) -> None:
    """Remove a chart from the lists; its readings stay."""
    rows.alter(db, charts_table, {"id": chart}, {"removed": now})
