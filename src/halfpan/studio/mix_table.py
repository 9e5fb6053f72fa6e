"""A table of recipes: which columns hold the paints and their amounts, and what each row asks."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from halfpan.core.mixing.observation import Wash, wash_of
from halfpan.core.paint.paint import Paint
from halfpan.errors import UnreadableTable
from halfpan.files.tables import Row, Table

_COLUMN = re.compile(r"^(paint|amount|parts)(?:[ _]?([a-f]))?(?:[ _(].*)?$")


def recipes_in_table(table: Table, named: Callable[[str], Paint]) -> list[Wash]:
    """Return the wash of each row.

    Columns are ``paint, amount`` for single paints or ``paint_a, amount_a, paint_b, amount_b, ...`` up to f
    for mixes; others are left alone. A paint without amount in its row is not in the mix.

    Raises
    ------
    UnreadableTable, UnknownPaint
    """
    if not table.rows:
        raise UnreadableTable("The table of mixes is empty.")
    pairs = amount_columns(table.rows[0].cells)
    return [_wash(row, pairs, named) for row in table.rows[1:]]


def amount_columns(headings: Sequence[str]) -> list[tuple[int, int]]:
    """Return which columns hold a paint and its amount, paint by paint."""
    found: dict[tuple[str, str], int] = {}
    for at, heading in enumerate(headings):
        match = _COLUMN.match(heading.strip().casefold())
        if match:
            noun = "paint" if match[1] == "paint" else "amount"
            found.setdefault((noun, match[2] or ""), at)
    letters = sorted(letter for noun, letter in found if noun == "paint")
    if not letters or any(("amount", letter) not in found for letter in letters):
        raise UnreadableTable(
            "A table of mixes needs the columns paint, amount, or paint_a, amount_a, paint_b, amount_b; "
            f"found: {', '.join(h for h in headings if h) or 'no headings'}."
        )
    return [(found["paint", letter], found["amount", letter]) for letter in letters]


def _wash(row: Row, pairs: Sequence[tuple[int, int]], named: Callable[[str], Paint]) -> Wash:
    wash = wash_of(
        *(
            (named(paint).id, _amount(row, amount))
            for paint_at, amount in pairs
            if (paint := _cell(row, paint_at)) and _cell(row, amount)
        )
    )
    if not wash:
        raise UnreadableTable(f"Row {row.line} of the table of mixes has no paint with an amount.")
    return wash


def _cell(row: Row, at: int) -> str:
    return row.cells[at].strip() if at < len(row.cells) else ""


def _amount(row: Row, at: int) -> float:
    text = _cell(row, at).replace(",", ".")
    try:
        amount = float(text)
    except ValueError:
        amount = -1.0
    if not 0 <= amount < float("inf"):
        raise UnreadableTable(f"Row {row.line} of the table of mixes: “{_cell(row, at)}” is not an amount.")
    return amount
