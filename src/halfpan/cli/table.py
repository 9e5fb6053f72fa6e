"""Answers in rows: a table where the window is wide enough for its words, else an entry for each row."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

import typer

if TYPE_CHECKING:
    from rich.console import JustifyMethod
    from rich.table import Table

Rows = Sequence[Sequence[Any]]

_NOTHING = (None, "")
_BESIDE = 3  # letters that a column takes beside its words


def put_table(
    title: str,
    headings: Sequence[str],
    rows: Iterable[Sequence[Any]],
    *,
    right: Sequence[str] = (),
    note: str = "",
) -> None:
    """Answer with a table; cells are text or none (shown as a quiet dash: unknown).

    A table without rows is a line that says so; a column with neither heading nor cells is left out, and so
    is a row of headings without any. In a window so narrow that words would break, each row is an entry.
    """
    given = [list(row) for row in rows]
    if not given:
        typer.echo(f"{title}: none." if title else "There are none.")
        return
    shown = [at for at, name in enumerate(headings) if name or any(row[at] not in _NOTHING for row in given)]
    names, cells = [headings[at] for at in shown], [[row[at] for at in shown] for row in given]
    from rich.console import Console

    console = Console(width=_width(), highlight=False)
    widths = _widths([names, *cells], console.width)
    table = _table(names, cells, widths, right) if widths else _entries(names, cells)
    table.title, table.title_justify = title or None, "left"
    table.caption, table.caption_justify = note or None, "left"
    console.print(table)


def _width() -> int | None:
    """Leave room when the answer goes into a file or a pipe; a terminal knows its own width."""
    return None if sys.stdout.isatty() or "COLUMNS" in os.environ else 160


def _widths(rows: Rows, room: int) -> list[int]:
    """Return how wide each column is to be, in letters, so that no word is broken; none where that fails.

    What the longest words leave goes to the narrowest columns that would still wrap, so that long texts share
    what short ones do not need.
    """
    from rich.cells import cell_len

    columns = list(zip(*rows, strict=True))
    widths = [max(cell_len(word) for cell in column for word in _text(cell).split()) for column in columns]
    wanted = [max(cell_len(_text(cell)) for cell in column) for column in columns]
    spare = room - sum(widths) - _BESIDE * len(widths)
    if spare < 0:
        return []
    for _ in range(min(spare, sum(wanted) - sum(widths))):
        at = min((k for k in range(len(widths)) if widths[k] < wanted[k]), key=widths.__getitem__)
        widths[at] += 1
    return widths


def _text(cell: Any) -> str:
    return "–" if cell in _NOTHING else str(cell)


def _table(headings: Sequence[str], rows: Rows, widths: Sequence[int], right: Sequence[str]) -> Table:
    from rich import box
    from rich.table import Table
    from rich.text import Text

    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_header=any(headings))
    for heading, width in zip(headings, widths, strict=True):
        justify: JustifyMethod = "right" if heading in right else "left"
        table.add_column(heading, justify=justify, overflow="fold", width=width)
    for row in rows:
        table.add_row(*(
            Text("–" if name else "", style="dim") if cell in _NOTHING else Text(str(cell))
            for name, cell in zip(headings, row, strict=True)
        ))  # fmt: skip
    return table


def _entries(headings: Sequence[str], rows: Rows) -> Table:
    """Return an entry for each row: a line for each cell that says something, its heading before it."""
    from rich.table import Table
    from rich.text import Text

    table = Table.grid(padding=(0, 2, 0, 0), pad_edge=True)
    table.add_column(no_wrap=True)
    table.add_column(overflow="fold")
    for row in rows:
        for name, cell in zip(headings, row, strict=True):
            if cell not in _NOTHING:
                table.add_row(Text(name, style="dim"), Text(str(cell)))
        table.add_row("", "")
    return table
