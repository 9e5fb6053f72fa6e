"""An answer as the document that ``--json`` and the page's API give out: its values under their own names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from math import isfinite
from typing import Any


def answer_to_document(answer: Any) -> Any:
    """Return an answer as JSON can hold it; what is unknown or endless is null, dates are ISO 8601."""
    if is_dataclass(answer) and not isinstance(answer, type):
        return {one.name: answer_to_document(getattr(answer, one.name)) for one in fields(answer)}
    if isinstance(answer, Mapping):
        return {str(key): answer_to_document(value) for key, value in answer.items()}
    if isinstance(answer, tuple | list):
        return [answer_to_document(value) for value in answer]
    if isinstance(answer, date):
        return answer.isoformat()
    if isinstance(answer, float):
        return float(answer) if isfinite(answer) else None
    return answer
