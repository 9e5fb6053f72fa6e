"""What was done, as the JSON documents of commands and page."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from halfpan.collection.changes import Change
from halfpan.studio.paint_history import Done


def changes_to_dict(found: Iterable[Change]) -> dict[str, Any]:
    """Return changes, newest first."""
    return {"changes": [_change(one) for one in found]}


def history_to_dict(done: Iterable[Done]) -> dict[str, Any]:
    """Return what was done to one paint, with what stood before, and whether it can still be taken back."""
    return {
        "changes": [
            {**_change(one.change), "before": dict(one.before), "undoable": one.undoable} for one in done
        ]
    }


def _change(one: Change) -> dict[str, Any]:
    return {
        "id": one.id,
        "when": one.when.isoformat(),
        "who": one.who,
        "what": one.what,
        "undone": one.undone,
    }
