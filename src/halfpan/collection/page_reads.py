"""Page reads: one page of a chart read from one photo, with its light and what stayed unread."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import datetime

from sqlalchemy import Connection, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import rows
from halfpan.collection.tables import page_reads as page_reads_table
from halfpan.core.paint.reading import Light, Unread


@dataclass(frozen=True, slots=True)
class PageRead:
    """One page read once. ``corners`` are the sheet's corners in the picture, (row, col), where kept."""

    chart: str
    page: int
    photo: str | None
    light: Light
    unread: tuple[Unread, ...]
    version: str
    read: datetime
    corners: tuple[tuple[float, float], ...] | None = None
    id: int = 0


def _value(row: RowMapping) -> PageRead:
    corners = row["corners"]
    return PageRead(
        chart=row["chart"],
        page=row["page"],
        photo=row["photo"],
        light=Light(row["tier"], row["check_delta_e00"]),
        unread=tuple(Unread(**one) for one in row["unread"]),
        version=row["version"],
        read=row["read"],
        corners=None if corners is None else tuple((one[0], one[1]) for one in corners),
        id=row["id"],
    )


def add(db: Connection, read: PageRead) -> int:
    """Keep a page read and return its number."""
    number: int = rows.add_one(
        db,
        page_reads_table,
        {
            "chart": read.chart,
            "page": read.page,
            "photo": read.photo,
            "tier": read.light.tier,
            "check_delta_e00": read.light.check_delta_e00,
            "unread": [asdict(one) for one in read.unread],
            "corners": None if read.corners is None else [list(one) for one in read.corners],
            "version": read.version,
            "read": read.read,
        },
    )
    return number


def find(db: Connection, number: int) -> PageRead | None:
    """Return a page read by its number, or none."""
    row = db.execute(select(page_reads_table).where(page_reads_table.c.id == number)).mappings().first()
    return _value(row) if row else None


def set_version(db: Connection, number: int, version: str) -> None:
    """Say what made a read: the program's version, and whether a person set the sheet's corners."""
    rows.alter(db, page_reads_table, {"id": number}, {"version": version})


def of_photo(db: Connection, sha256: str) -> list[PageRead]:
    """Return the reads of one photo, oldest first."""
    query = select(page_reads_table).where(page_reads_table.c.photo == sha256).order_by(page_reads_table.c.id)
    return [_value(row) for row in db.execute(query).mappings()]


def of_chart(db: Connection, chart: str) -> list[PageRead]:
    """Return the reads of one chart, oldest first."""
    query = select(page_reads_table).where(page_reads_table.c.chart == chart).order_by(page_reads_table.c.id)
    return [_value(row) for row in db.execute(query).mappings()]
