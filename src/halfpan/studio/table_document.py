"""A chart at the table as a JSON document: what to paint next, and what to know of every box first."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from halfpan.core.chart.step import Step
from halfpan.core.paint.cautions import DEFER
from halfpan.studio.paint_boxes import AtTable


def table_to_dict(at_table: AtTable) -> dict[str, Any]:
    """Return the boxes of a chart in the order they are painted, ticked or open, with label and cautions."""
    following = at_table.next
    return {
        "chart": at_table.kept.chart.chart,
        "title": at_table.kept.title,
        "kind": at_table.kept.chart.kind,
        "painted": at_table.painted,
        "next": {"page": following.page, "box": following.box} if following else None,
        "boxes": [_step(step) for step in at_table.steps],
        "note": DEFER,
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "page": step.page,
        "box": step.box,
        "pours": [{**asdict(pour), "codes": list(pour.codes)} for pour in step.pours],
        "test": step.test,
        "said": [asdict(one) for one in step.said],
        "cautions": [asdict(one) for one in step.cautions],
        "painted": step.painted,
        "note": step.note,
    }
