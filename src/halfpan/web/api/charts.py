"""Charts and their readings as documents."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.core.chart.sheet import chart_to_dict
from halfpan.core.paint.reading import State
from halfpan.studio.chart_document import charts_to_dict
from halfpan.studio.follow_charts import follow_charts
from halfpan.studio.paint_boxes import lay_out
from halfpan.studio.readings_document import readings_to_dict
from halfpan.studio.review import Which, list_readings
from halfpan.studio.see_chart import see_chart
from halfpan.studio.table_document import table_to_dict
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["charts"])


@router.get("/charts")
def charts(studio: AskedStudio) -> dict[str, Any]:
    """Return all charts with how far they are, and what brings each up to date."""
    return charts_to_dict(follow_charts(studio))


@router.get("/charts/{chart}")
def chart(chart: str, studio: AskedStudio) -> dict[str, Any]:
    """Return the geometry of one chart, as ``chart.json`` holds it."""
    return chart_to_dict(see_chart(studio, chart).kept.chart)


@router.get("/charts/{chart}/readings")
def readings(chart: str, studio: AskedStudio) -> dict[str, Any]:
    """Return what was read of one chart, every reading with its doubt and state."""
    return readings_to_dict(list_readings(studio, Which(chart=chart)))


@router.get("/charts/{chart}/table")
def at_table(chart: str, studio: AskedStudio) -> dict[str, Any]:
    """Return a chart as it is painted at the table: what is next, what to know of each box first."""
    return table_to_dict(lay_out(studio, chart))


@router.get("/readings")
def every_reading(
    studio: AskedStudio, chart: str = "", box: str = "", paint: str = "", state: State | None = None
) -> dict[str, Any]:
    """Return readings, of any chart or instrument."""
    return readings_to_dict(list_readings(studio, Which(chart=chart, box=box, paint=paint, state=state)))
