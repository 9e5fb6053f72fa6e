"""The charts of a studio, newest first."""

from __future__ import annotations

from halfpan.collection import charts
from halfpan.collection.charts import ChartState
from halfpan.studio.studio import Studio


def list_charts(studio: Studio) -> list[ChartState]:
    """Return all charts with how many of their boxes are for a paint, painted, and read."""
    with studio.look() as db:
        return charts.listed(db)
