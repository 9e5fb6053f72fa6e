"""Add readings from an instrument: swatches, ladders of known amounts, and mixes.

A paint that the studio does not know yet is added under the name in the file, and said so. The same file
twice adds nothing twice.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection

from halfpan import __version__
from halfpan.collection import changes, paints, readings
from halfpan.collection.readings import KeptReading
from halfpan.core.paint.paint import Label, Paint
from halfpan.core.paint.reading import Lab, Reading
from halfpan.errors import UnreadableTable
from halfpan.files.instrument import Measured, Part, read_measured
from halfpan.files.originals import sha256_of
from halfpan.studio.find_paint import answering_to, pick_paint
from halfpan.studio.studio import Studio

INSTRUMENT_WITHIN = 0.5
"""95 % radius of an instrument reading: common practice, no source."""


@dataclass(frozen=True, slots=True)
class ReadingsAdded:
    """What came of a file: readings kept, rows known already, paints made for it, rows not used."""

    kept: tuple[int, ...]
    known: int
    new_paints: tuple[Paint, ...]
    problems: tuple[str, ...]


def add_readings(
    studio: Studio, path: Path, *, now: datetime, paper: Path | None = None, who: str = ""
) -> ReadingsAdded:
    """Keep the readings of a file as accepted readings of the instrument tier.

    Parameters
    ----------
    studio : Studio
    path : Path
    now : datetime
    paper : Path, optional
        A file with one row: the bare paper.
    who : str, optional

    Raises
    ------
    UnreadableTable
        When no row can be used.
    UnknownPaint
        When a name in it is that of several paints; nothing is kept then.
    """
    measured = read_measured(path)
    if not measured.rows:
        first = measured.problems[0] if measured.problems else "it has no rows"
        raise UnreadableTable(f"No row of {path.name} can be used: {first}.")
    source = f"{path.name} {sha256_of(path.read_bytes())[:12]}"
    white = _paper(paper) if paper else None
    with studio.transaction() as db, changes.noted(db, f"added readings of {path.name}", now=now, who=who):
        held = readings.from_source(db, source)
        rows = [row for row in measured.rows if str(row.line) not in held]
        ids, new = _paints_of(db, rows, now)
        kept = [_kept(row, ids, source, white, now) for row in rows if _parts(row)]
        nameless = [f"{path.name}, line {row.line}: no paint is named." for row in rows if not _parts(row)]
        return ReadingsAdded(
            kept=tuple(readings.add_all(db, kept)),
            known=len(measured.rows) - len(rows),
            new_paints=tuple(paints.of_ids(db, new)),
            problems=(*measured.problems, *nameless),
        )


def _parts(row: Measured) -> tuple[Part, ...]:
    """Return the paints of a row; a row that only has a name is that paint alone."""
    return row.parts or (((row.name, None),) if row.name else ())


def _paper(path: Path) -> Lab:
    rows = read_measured(path).rows
    if len(rows) != 1:
        raise UnreadableTable(f"{path.name} has {len(rows)} usable rows; the paper is one.")
    return rows[0].lab


def _paints_of(db: Connection, rows: Iterable[Measured], now: datetime) -> tuple[dict[str, str], list[str]]:
    """Return the id of every paint named, and which of them had to be added."""
    everything = paints.listed(db)
    named = dict.fromkeys(name for row in rows for name, _ in _parts(row))
    missing = [name for name in named if not answering_to(everything, name)]
    new = [Paint(id="", maker="", range="", name=name, label=Label(name)) for name in missing]
    added = paints.add_all(db, new, now=now)
    ids = dict(zip(missing, added, strict=True))
    for name in named:
        if name not in ids:
            ids[name] = pick_paint(everything, name).id
    return ids, added


def _kept(row: Measured, ids: dict[str, str], source: str, white: Lab | None, now: datetime) -> KeptReading:
    parts = _parts(row)
    amounts = tuple((ids[name], amount) for name, amount in parts if amount is not None)
    single = ids[parts[0][0]] if len(parts) == 1 else None
    reading = Reading(
        box="",
        paint=single,
        zone="wash" if amounts else "masstone",
        lab=row.lab,
        within_delta_e00=INSTRUMENT_WITHIN,
        tier="instrument",
        count=1,
        state="accepted",
    )
    return KeptReading(
        reading=reading,
        taken=now,
        amounts=amounts,
        reflectance=row.reflectance,
        paper_lab=white,
        source=source,
        source_row=str(row.line),
        condition=row.condition,
        version=__version__,
    )
