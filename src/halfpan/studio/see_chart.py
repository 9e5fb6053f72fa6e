"""One chart as its page shows it: boxes, how far they are, what waits; and putting it away."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from halfpan.collection import changes, charts, page_reads, readings, swatches
from halfpan.collection.charts import BoxState, KeptChart
from halfpan.collection.page_reads import PageRead
from halfpan.collection.swatches import KeptSwatch
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class ChartSeen:
    """A chart, its boxes in order, the latest read of each box, and how many readings wait."""

    kept: KeptChart
    boxes: tuple[BoxState, ...]
    reads: tuple[PageRead, ...]
    swatches: dict[tuple[int, str], KeptSwatch]
    waiting: int

    @property
    def read(self) -> int:
        """How many boxes have been read."""
        return len(self.swatches)


def see_chart(studio: Studio, chart: str) -> ChartSeen:
    """Return what is known of one chart.

    Raises
    ------
    UnknownChart
    """
    with studio.look() as db:
        kept = charts.find(db, chart)
        number = kept.chart.chart
        reads = tuple(page_reads.of_chart(db, number))
        found = [one for read in reads for one in swatches.listed(db, page_read=read.id)]
        waiting = readings.listed(db, chart=number, state="to review")
        return ChartSeen(
            kept=kept,
            boxes=tuple(charts.box_states(db, number)),
            reads=reads,
            swatches={(one.page or 1, one.swatch.box): one for one in found if one.state != "set aside"},
            waiting=len({(one.page_read, one.reading.box) for one in waiting}),
        )


def remove_chart(studio: Studio, chart: str, *, now: datetime, who: str = "") -> None:
    """Put a chart away; its readings stay.

    Raises
    ------
    UnknownChart
    """
    with studio.transaction() as db:
        kept = charts.find(db, chart).chart.chart
        with changes.noted(db, f"removed chart {kept}", now=now, who=who):
            charts.put_away(db, kept, now=now)
