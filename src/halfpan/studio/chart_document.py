"""The list of charts as the JSON document that command and page share."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from halfpan.studio.follow_charts import ChartFollowed


def charts_to_dict(followed: Iterable[ChartFollowed]) -> dict[str, Any]:
    """Return charts with how far they are, and what brings each up to date."""
    return {
        "charts": [
            {
                "chart": one.state.chart,
                "kind": one.state.kind,
                "title": one.state.title,
                "made": one.state.made.isoformat(),
                "pages": one.state.pages,
                "paints": one.state.paints,
                "painted": one.state.painted,
                "reads": one.state.reads,
                "step": one.step,
                "read": one.read,
                "waiting": one.waiting,
                "out_of_date": _out_of_date(one) if one.out_of_date else None,
            }
            for one in followed
        ]
    }


def _out_of_date(one: ChartFollowed) -> dict[str, Any]:
    return {
        "repaint": list(one.repaint),
        "own_sheet": [paint.id for paint in one.elsewhere],
        "newcomers": [paint.id for paint in one.newcomers],
        "again": list(one.again),
        "moved": [{"box": m.box, "seat": m.seat, "was": m.was, "now": m.now} for m in one.moved],
        "changed": [
            {"box": c.box, "printed": c.printed, "now": c.now.id if c.now else None} for c in one.changed
        ],
    }
