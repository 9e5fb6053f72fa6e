"""Which paints are meant by ``--paints``: all, a list in a file, or ids and names one after another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from sqlalchemy import Connection

from halfpan.collection import paints
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import pick_paint
from halfpan.studio.listing.columns import folded, guess_columns
from halfpan.studio.studio import Studio


def pick_paints(db: Connection, text: str) -> list[Paint]:
    """Return the paints that a text means, in its order.

    Parameters
    ----------
    db : Connection
    text : str
        ``all`` (every paint that is owned), a file with a column of ids or names, or ids and names with
        commas between them.

    Raises
    ------
    BadRequest, UnknownPaint, UnreadableTable
    """
    everything = paints.listed(db)
    owned = [one for one in everything if one.owned]
    if text.strip().casefold() == "all":
        if not owned:
            raise BadRequest("There are no paints in this studio yet; add some with `halfpan paints add`.")
        return owned
    path = Path(text)
    if path.suffix and path.is_file():
        return _of_file(everything, path)
    wanted = [part.strip() for part in text.split(",") if part.strip()]
    if not wanted:
        raise BadRequest("No paint is named; say all, a file, or numbers with commas between them.")
    return [pick_paint(everything, part) for part in wanted]


def _of_file(everything: Sequence[Paint], path: Path) -> list[Paint]:
    from halfpan.files.tables import read_table

    rows = read_table(path).rows
    columns = guess_columns(rows)
    heading = [folded(cell) for cell in columns.headings]
    ids = heading.index("id") if "id" in heading else None
    found = []
    for row in rows[columns.first_row :]:
        parts = (columns.cell(row, "maker"), columns.cell(row, "range"), columns.cell(row, "name"))
        named = row.cells[ids] if ids is not None else " ".join(part for part in parts if part)
        found.append(pick_paint(everything, named))
    if not found:
        raise BadRequest(f"{path.name} names no paints.")
    return found


def name_paints(studio: Studio, lines: Iterable[str]) -> list[str]:
    """Return the ids of paints written one to a line; blank lines are passed over, and files never opened.

    Raises
    ------
    BadRequest, UnknownPaint
    """
    wanted = [line.strip() for line in lines if line.strip()]
    with studio.look() as db:
        everything = paints.listed(db) if wanted else []
    return [pick_paint(everything, line).id for line in wanted]
