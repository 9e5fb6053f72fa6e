"""Correct a paint, put it away, bring it back. The label as printed stays as it was printed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from halfpan.collection import changes, paints
from halfpan.core.paint.codes import parse_codes
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio


def correct_paint(
    studio: Studio,
    text: str,
    *,
    now: datetime,
    maker: str | None = None,
    range_name: str | None = None,
    codes: str | None = None,
    who: str = "",
    **values: Any,
) -> Paint:
    """Correct what is said of a paint and return it.

    Parameters
    ----------
    text : str
        Id or name of the paint.
    codes : str, optional
        New codes, as typed; each must be one that can be read without doubt.
    **values
        Any of ``name, other_names, series, favourite, tags, notes, owned``.

    Raises
    ------
    UnknownPaint, BadRequest
    """
    if not values and (maker, range_name, codes) == (None, None, None):
        raise BadRequest("Nothing was corrected: say what of it, such as its name, codes or tags.")
    with studio.transaction() as db:
        paint = find_paint(db, text)
        with changes.noted(db, f"corrected {paint.name}", now=now, who=who):
            paints.edit(db, paint.id, **values)
            if codes is not None:
                paints.set_codes(db, paint.id, _sure_codes(codes))
            if maker is not None or range_name is not None:
                new_maker = paint.maker if maker is None else maker
                new_range = paint.range if range_name is None else range_name
                paints.move_to_range(db, paint.id, new_maker, new_range)
        return paints.of_ids(db, [paint.id])[0]


def _sure_codes(text: str) -> Sequence[str]:
    codes = parse_codes(text)
    for code in codes:
        if code.canonical is None:
            raise BadRequest(
                f"“{code.as_written}” is no code that can be used: {code.problem}. Write it like PB29."
            )
    return [code.canonical for code in codes if code.canonical]


def remove_paint(studio: Studio, text: str, *, now: datetime, who: str = "") -> Paint:
    """Put a paint away and return it; its charts and readings stay, and undo brings it back."""
    with studio.transaction() as db:
        paint = find_paint(db, text)
        with changes.noted(db, f"removed {paint.name}", now=now, who=who):
            paints.put_away(db, paint.id, now=now)
        return paint
