"""Print a plan of mixes as a sheet to paint and to read again."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from halfpan.collection import changes, charts, paints
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.mixes import MixLabel, rule_mix_chart
from halfpan.core.chart.sheet import Chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.core.mixing.observation import Wash
from halfpan.core.paint.paint import Paint
from halfpan.files.pdf import text_width, write_chart
from halfpan.studio.plan_mixes import BoxPlan, in_parts
from halfpan.studio.rule_chart import new_chart_id
from halfpan.studio.studio import Studio


def print_plan(
    studio: Studio,
    plan: BoxPlan,
    pdf: Path,
    *,
    sheet: str = "A4",
    now: datetime,
    new_id: Callable[[], str] = new_chart_id,
) -> tuple[Chart, Path]:
    """Write the sheet of a plan and its geometry, keep the chart, and return both chart and geometry path.

    Raises
    ------
    BadLayout
    """
    with studio.transaction() as db:
        by_id = {paint.id: paint for paint in paints.listed(db)}
        ruled = rule_mix_chart(
            [_mix(wash, by_id) for wash in plan.washes()],
            sheet=sheet_of(sheet),
            chart_id=new_id(),
            measure=text_width,
        )
        with changes.noted(db, f"ruled a sheet of mixes {ruled.chart.chart}", now=now):
            charts.add(db, ruled.chart, now=now, title="Mixes")
        return ruled.chart, write_chart(pdf, ruled, ruled.chart)


def _mix(wash: Wash, by_id: dict[str, Paint]) -> MixLabel:
    return MixLabel([(_label(by_id[paint]), parts) for paint, parts in in_parts(wash)])


def _label(paint: Paint) -> BoxLabel:
    return BoxLabel(paint.id, paint.name, paint.codes, paint.maker, paint.range)
