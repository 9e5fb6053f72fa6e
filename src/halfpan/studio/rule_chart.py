"""Rule a chart for some paints: the sheet to print, its geometry, and its place in the studio."""

from __future__ import annotations

import json
import secrets
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from sqlalchemy import Connection

from halfpan.collection import changes, charts, orders, papers
from halfpan.core.arranging.order import FAMILY_WORDS, in_order
from halfpan.core.chart.ink import ChartSheet
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.layout import rule_swatch_chart
from halfpan.core.chart.line import Line
from halfpan.core.chart.sheet import Chart, chart_to_dict
from halfpan.core.chart.sizes import sheet_of
from halfpan.files.pdf import chart_pdf, text_width
from halfpan.files.whole import write_whole
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.pick_paints import pick_paints
from halfpan.studio.studio import Studio

# No vowels, and nothing that is easily taken for something else when written by hand.
LETTERS = "23456789BCDFGHJKMNPQRSTVWXZ"
PALE = {"white"}
Order = Literal["proposed", "given", "mine"]


@dataclass(frozen=True, slots=True)
class ChartWish:
    """What a chart is to be like. ``plan`` is rows and columns, to follow a tin; ``order`` who decides it."""

    paints: str = "all"
    sheet: str = "A4"
    title: str = ""
    margin_mm: float = 8.0
    plan: tuple[int, int] | None = None
    upside_down: bool = False
    spare: int = 0
    line: Line = "printed"
    order: Order = "proposed"
    paper: str = ""


def draw_chart(db: Connection, wish: ChartWish, chart_id: str) -> ChartSheet:
    """Return the sheet a wish describes; nothing is kept.

    Raises
    ------
    BadLayout, BadRequest, UnknownPaint, UnreadableTable
    """
    return rule_swatch_chart(
        _labels(db, wish),
        sheet=sheet_of(wish.sheet),
        chart_id=chart_id,
        measure=text_width,
        title=wish.title,
        margin_mm=wish.margin_mm,
        plan=wish.plan,
        upside_down=wish.upside_down,
        spare=wish.spare,
        line=wish.line,
    )


def _labels(db: Connection, wish: ChartWish) -> Sequence[BoxLabel]:
    picked = pick_paints(db, wish.paints)
    by_id = {one.id: one for one in picked}
    placed = in_order(painted_paints(db, picked))
    families = {one.paint: one.family for one in placed}
    order = list(by_id)
    if wish.order == "proposed":
        order = [one.paint for one in placed]
    elif wish.order == "mine":
        mine = {paint: at for at, paint in enumerate(orders.find(db))}
        order.sort(key=lambda paint: mine.get(paint, len(mine)))
    return [
        BoxLabel(
            paint=paint,
            name=by_id[paint].name,
            codes=by_id[paint].codes,
            maker=by_id[paint].maker,
            range=by_id[paint].range,
            family=FAMILY_WORDS[families[paint]] if wish.order == "proposed" and wish.plan is None else "",
            pale=families[paint] in PALE,
        )
        for paint in order
    ]


def new_chart_id() -> str:
    """Return an id that no other chart in the world is likely to have: six letters and digits."""
    return "".join(secrets.choice(LETTERS) for _ in range(6))


def rule_chart(
    studio: Studio,
    wish: ChartWish,
    pdf: Path,
    *,
    now: datetime,
    new_id: Callable[[], str] = new_chart_id,
    who: str = "",
) -> tuple[Chart, Path]:
    """Write a chart's PDF and, beside it, its geometry as ``.json``; keep it in the studio.

    Returns
    -------
    The chart, and the path of its geometry. Both files and the studio change together or not at all, but
    for a power cut in the moment between the two files.
    """
    with studio.transaction() as db:
        sheet = draw_chart(db, wish, new_id())
        paper = papers.find(db, wish.paper).id if wish.paper else None
        with changes.noted(db, f"ruled chart {sheet.chart.chart}", now=now, who=who):
            charts.add(db, sheet.chart, now=now, title=wish.title, paper=paper)
        geometry = pdf.with_suffix(".json")
        document = json.dumps(chart_to_dict(sheet.chart), ensure_ascii=False, indent=1)
        write_whole(pdf, chart_pdf(sheet))
        write_whole(geometry, document.encode())
    return sheet.chart, geometry
