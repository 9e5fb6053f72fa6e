"""Pages to carry away: the pocket list, the collection, one chart."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from halfpan.studio.see_chart import see_chart
from halfpan.studio.share_paints import share_chart, share_collection, share_pocket, share_table
from halfpan.web.asked import AskedCutting, AskedNow, AskedStudio
from halfpan.web.carried import carried

router = APIRouter(include_in_schema=False)


@router.get("/share/pocket-list.html")
def pocket(studio: AskedStudio, now: AskedNow, cutting: AskedCutting) -> Response:
    """Answer with the pocket list."""
    with cutting:
        return carried(share_pocket(studio, now=now), "pocket-list.html")


@router.get("/share/paints.html")
def collection(studio: AskedStudio, now: AskedNow, cutting: AskedCutting) -> Response:
    """Answer with the collection."""
    with cutting:
        return carried(share_collection(studio, now=now), "paints.html")


@router.get("/charts/{chart}/share.html")
def chart_page(chart: str, studio: AskedStudio, now: AskedNow, cutting: AskedCutting) -> Response:
    """Answer with one chart."""
    number = see_chart(studio, chart).kept.chart.chart
    with cutting:
        return carried(share_chart(studio, number, now=now), f"chart-{number}.html")


@router.get("/charts/{chart}/table.html")
def table(chart: str, studio: AskedStudio, now: AskedNow) -> Response:
    """Answer with a chart to be painted without this page."""
    number = see_chart(studio, chart).kept.chart.chart
    return carried(share_table(studio, number, now=now), f"at-the-table-{number}.html")
