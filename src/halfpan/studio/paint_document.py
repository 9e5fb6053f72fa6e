"""A paint as the document that ``--json`` and the page's API give out."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from halfpan.core.paint.paint import Paint


def paint_to_dict(paint: Paint) -> dict[str, Any]:
    """Return a paint as JSON can hold it; what is unknown is null or empty."""
    document = asdict(paint)
    document["bought"] = paint.bought.isoformat() if paint.bought else None
    return document
