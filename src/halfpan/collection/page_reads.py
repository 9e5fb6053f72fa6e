"""Page reads: one page of a chart read from one photo, with its light and what stayed unread."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select
from sqlalchemy.engine import RowMapping

from halfpan.collection import rows
from halfpan.collection.tables import page_reads as page_reads_table
from halfpan.core.paint.reading import Light, Unread


@dataclass(frozen=True, slots=True)
class ByHand:
    """What a person set before a page was read: the sheet's corners, and boxes moved by (x, y) in mm."""

    corners: bool = False
    moved: Mapping[str, tuple[float, float]] = field(default_factory=dict)


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
    by_hand: ByHand = ByHand()
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
        by_hand=_by_hand(row["by_hand"] or {}),
        id=row["id"],
    )


def _by_hand(said: Mapping[str, Any]) -> ByHand:
    moved = {box: (float(x), float(y)) for box, (x, y) in said.get("moved", {}).items()}
    return ByHand(bool(said.get("corners")), moved)


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
            "by_hand": None if read.by_hand == ByHand() else asdict(read.by_hand),
        },
    )
    return number


def find(db: Connection, number: int) -> PageRead | None:
    """Return a page read by its number, or none."""
    wanted = page_reads_table.c.id == rows.askable(number)
    row = db.execute(select(page_reads_table).where(wanted)).mappings().first()
    return _value(row) if row else None


def of_photo(db: Connection, sha256: str) -> list[PageRead]:
    """Return the reads of one photo, oldest first."""
    query = select(page_reads_table).where(page_reads_table.c.photo == sha256).order_by(page_reads_table.c.id)
    return [_value(row) for row in db.execute(query).mappings()]


def of_chart(db: Connection, chart: str) -> list[PageRead]:
    """Return the reads of one chart, oldest first."""
    query = select(page_reads_table).where(page_reads_table.c.chart == chart).order_by(page_reads_table.c.id)
    return [_value(row) for row in db.execute(query).mappings()]
