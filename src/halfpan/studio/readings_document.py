"""The list of readings as the JSON document of command and page."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from halfpan.studio.read_document import reading_to_dict
from halfpan.studio.review import NamedReading


def readings_to_dict(found: Iterable[NamedReading]) -> dict[str, Any]:
    """Return readings, each with its doubt, its state and where it comes from."""
    return {
        "readings": [
            {
                **reading_to_dict(one.kept),
                "name": one.name,
                "chart": one.kept.chart,
                "amounts": [list(part) for part in one.kept.amounts],
                "reason": one.kept.reason,
                "chosen": one.kept.chosen,
                "source": one.kept.source,
                "version": one.kept.version,
                "taken": one.kept.taken.isoformat(),
            }
            for one in found
        ]
    }
