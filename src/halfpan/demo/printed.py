"""A printed chart of invented paints, ready for the virtual painter."""

from __future__ import annotations

from collections.abc import Sequence

from halfpan.core.chart.ink import ChartSheet
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.layout import rule_swatch_chart
from halfpan.core.chart.sheet import Sheet
from halfpan.demo.studio_paints import StudioPaint
from halfpan.files.pdf import text_width

PALE = ("PW4", "PW6")
A4 = Sheet(210.0, 297.0, "A4")


def box_labels(paints: Sequence[StudioPaint]) -> list[BoxLabel]:
    """Return what the boxes of a chart say, in the order given; white alone counts as pale."""
    return [
        BoxLabel(
            entry.paint.id,
            entry.paint.name,
            entry.paint.codes,
            entry.paint.maker,
            entry.paint.range,
            family=entry.family.capitalize(),
            pale=len(entry.paint.codes) == 1 and entry.paint.codes[0] in PALE,
        )
        for entry in paints
    ]


def rule_studio_chart(
    paints: Sequence[StudioPaint], *, sheet: Sheet = A4, chart_id: str = "ESTUARY", title: str = ""
) -> ChartSheet:
    """Rule a swatch chart for some of the invented paints."""
    return rule_swatch_chart(
        box_labels(paints), sheet=sheet, chart_id=chart_id, measure=text_width, title=title
    )
