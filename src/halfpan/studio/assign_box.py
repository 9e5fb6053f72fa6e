"""Say what a spare box is for, or correct what a box was painted with."""

from __future__ import annotations

from datetime import datetime

from halfpan.collection import changes, charts, readings, swatches
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.sheet import Chart
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio


def assign_box(
    studio: Studio, chart: str, box: str, paint: str, *, now: datetime, page: int | None = None, who: str = ""
) -> Chart:
    """Assign a box to a paint and return the chart; what was read in that box goes with it.

    Raises
    ------
    UnknownChart, UnknownPaint, BadRequest
    """
    with studio.transaction() as db:
        kept = charts.find(db, chart)
        meant = find_paint(db, paint)
        found = [
            state
            for state in charts.box_states(db, kept.chart.chart)
            if state.box.casefold() == box.casefold() and page in {None, state.page}
        ]
        if len(found) != 1:
            problem = "no box" if not found else "more than one box"
            raise BadRequest(f"Chart {kept.chart.chart} has {problem} “{box}”; say which with --page.")
        (state,) = found
        label = BoxLabel(meant.id, meant.name, meant.codes, meant.maker, meant.range).text
        with changes.noted(db, f"box {box} is for {meant.name}", now=now, who=who):
            charts.assign(db, kept.chart.chart, state.page, state.box, paint=meant.id, label=label)
            readings.move(db, kept.chart.chart, state.box, meant.id)
            swatches.move(db, kept.chart.chart, state.box, meant.id, label)
        return charts.find(db, kept.chart.chart).chart
