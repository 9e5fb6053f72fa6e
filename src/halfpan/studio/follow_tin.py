"""Charts and lid cards that follow tins, box by seat; which of them no longer match after a move."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from types import MappingProxyType

from sqlalchemy import Connection

from halfpan.collection import changes, charts, paints, tins
from halfpan.collection.tins import Held, KeptTin
from halfpan.core.arranging.order import OrderRule, place
from halfpan.core.chart.ink import ChartSheet
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.layout import rule_swatch_chart
from halfpan.core.chart.sheet import Chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.core.chart.tin_sheet import CARD, rule_tin_sheet
from halfpan.errors import BadRequest
from halfpan.files.pdf import text_width, write_chart
from halfpan.studio.lay_tin import show_tin
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.pan_crops import pan_crops
from halfpan.studio.rule_chart import PALE, new_chart_id
from halfpan.studio.studio import Studio

SEATS = "seats"  # in a chart's document: box to [tin, seat]
Cell = tuple[KeptTin, str] | None


@dataclass(frozen=True, slots=True)
class Moved:
    """A box of a chart or a lid card whose seat holds another paint now."""

    box: str
    seat: str
    was: str | None
    now: str | None


@dataclass(frozen=True, slots=True)
class Stale:
    """A chart or lid card that no longer matches its tins, with the boxes that differ."""

    chart: str
    kind: str
    title: str
    moved: tuple[Moved, ...]


def rule_tin_chart(
    studio: Studio,
    named: Sequence[str],
    pdf: Path,
    *,
    now: datetime,
    sheet: str = "A4",
    upside_down: bool = False,
    new_id: Callable[[], str] = new_chart_id,
) -> tuple[Chart, Path]:
    """Write a swatch chart whose boxes lie as the pans sit in one tin or several, one below the other.

    Raises
    ------
    BadLayout, BadRequest
    """
    with studio.transaction() as db:
        chosen = [tins.find(db, name) for name in named]
        cells, columns = _grid(chosen, upside_down=upside_down)
        labels = _labels(db, chosen)
        title = " and ".join(tin.name for tin in chosen)
        ruled = rule_swatch_chart(
            [labels.get(_held(cell).paint or "") for cell in cells],
            sheet=sheet_of(sheet),
            chart_id=new_id(),
            measure=text_width,
            title=title,
            plan=(len(cells) // columns, columns),
        )
        boxes = [box.box for page in ruled.chart.pages for box in page.boxes]
        seats: dict[str, list[int | str]] = {
            box: [cell[0].id, cell[1]] for box, cell in zip(boxes, cells, strict=False) if cell
        }
        return _keep(db, ruled, seats, pdf, title=title, now=now)


def rule_lid_card(
    studio: Studio,
    named: str,
    pdf: Path,
    *,
    now: datetime,
    sheet: str = "A4",
    card_mm: tuple[float, float] = CARD,
    labels: bool = True,
    crops: bool = False,
    new_id: Callable[[], str] = new_chart_id,
) -> tuple[Chart, Path]:
    """Write the lid card of a tin at true size, with labels for its pans and tubes, to print, paint and cut.

    With ``crops`` the painter's own boxes are printed where their photos are kept; the others are to paint.

    Raises
    ------
    BadLayout, BadRequest
    """
    pictures = pan_crops(studio, show_tin(studio, named)[0].paints)[0] if crops else {}
    with studio.transaction() as db:
        tin = tins.find(db, named)
        ruled = _lid_card(
            db, tin, new_id(), sheet=sheet, card_mm=card_mm, labels=labels, pictured=pictures.keys()
        )
        seats: dict[str, list[int | str]] = {
            box.box: [tin.id, box.box] for page in ruled.chart.pages for box in page.boxes
        }
        return _keep(db, ruled, seats, pdf, title=tin.name, now=now, pictures=pictures)


def draw_lid_card(
    studio: Studio, named: str, *, card_mm: tuple[float, float] = CARD, pictured: Collection[str] = ()
) -> ChartSheet:
    """Return the lid card of a tin as it would be printed, without labels; nothing is kept.

    Raises
    ------
    BadLayout, BadRequest
    """
    with studio.look() as db:
        tin = tins.find(db, named)
        return _lid_card(db, tin, "PREVIEW", sheet="A3", card_mm=card_mm, labels=False, pictured=pictured)


def _lid_card(
    db: Connection,
    tin: KeptTin,
    chart_id: str,
    *,
    sheet: str,
    card_mm: tuple[float, float],
    labels: bool,
    pictured: Collection[str],
) -> ChartSheet:
    if not tin.paints:
        raise BadRequest(f"The tin “{tin.name}” is empty; put pans into it first.")
    own = _labels(db, [tin])
    return rule_tin_sheet(
        tin.tin,
        {seat: own[held.paint] for seat, held in tin.held.items() if held.paint},
        sheet=sheet_of(sheet),
        chart_id=chart_id,
        measure=text_width,
        card_mm=card_mm,
        pictured=pictured,
        labels=labels,
    )


def _keep(
    db: Connection,
    ruled: ChartSheet,
    seats: dict[str, list[int | str]],
    pdf: Path,
    *,
    title: str,
    now: datetime,
    pictures: Mapping[str, bytes] = MappingProxyType({}),
) -> tuple[Chart, Path]:
    chart = replace(ruled.chart, extra={**ruled.chart.extra, SEATS: seats})
    with changes.noted(db, f"ruled the {chart.kind} {chart.chart} of {title}", now=now):
        charts.add(db, chart, now=now, title=title)
    return chart, write_chart(pdf, ruled, chart, pictures)


def _grid(chosen: Sequence[KeptTin], *, upside_down: bool) -> tuple[list[Cell], int]:
    """Return the seats of tins as rows of one length, a blank or a missing seat as none."""
    rows: list[list[Cell]] = []
    for tin in chosen:
        own: dict[int, list[Cell]] = {}
        for seat in tin.tin.seats:
            own.setdefault(seat.row, []).append((tin, seat.name) if seat.size else None)
        widest = max(len(row) for row in own.values())
        padded = [own[r] + [None] * (widest - len(own[r])) for r in sorted(own)]
        rows += [row[::-1] for row in padded[::-1]] if upside_down else padded
    columns = max(len(row) for row in rows)
    return [cell for row in rows for cell in row + [None] * (columns - len(row))], columns


def _held(cell: Cell) -> Held:
    return Held() if cell is None else cell[0].held.get(cell[1], Held())


def _labels(db: Connection, chosen: Sequence[KeptTin]) -> dict[str, BoxLabel]:
    held = paints.of_ids(db, list(dict.fromkeys(paint for tin in chosen for paint in tin.paints)))
    return {
        one.paint.id: BoxLabel(
            one.paint.id,
            one.paint.name,
            one.paint.codes,
            one.paint.maker,
            one.paint.range,
            pale=place(one, OrderRule()).family in PALE,
        )
        for one in painted_paints(db, held)
    }


def stale_charts(studio: Studio, named: str = "") -> tuple[Stale, ...]:
    """Return the charts and lid cards that no longer match the tin (or any tin), newest first."""
    with studio.look() as db:
        every = {tin.id: tin for tin in tins.listed(db)}
        wanted = {tins.find(db, named).id} if named else set(every)
        found = []
        for listed in charts.listed(db):
            kept = charts.find(db, listed.chart)
            moved = moved_boxes(kept.chart, every, wanted)
            if moved:
                found.append(Stale(listed.chart, listed.kind, listed.title, moved))
    return tuple(found)


def moved_boxes(chart: Chart, every: dict[int, KeptTin], wanted: set[int]) -> tuple[Moved, ...]:
    """Return the boxes of a chart that follow one of the wanted tins, and whose seats hold others now."""
    seats = chart.extra.get(SEATS, {})
    moved = []
    for box in (box for page in chart.pages for box in page.boxes if box.box in seats):
        tin, seat = seats[box.box]
        if tin not in wanted:
            continue
        now = every[tin].held.get(seat, Held()).paint if tin in every else None
        if now != box.paint:
            moved.append(Moved(box.box, seat, box.paint, now))
    return tuple(moved)
