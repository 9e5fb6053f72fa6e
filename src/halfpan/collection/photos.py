"""Photographs that were kept: what their files say about themselves. The files lie in ``photos/``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.tables import photos as photos_table


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """An original, known by the SHA-256 of its bytes; ``exif`` is what its file says of how it was taken."""

    sha256: str
    name: str
    bytes: int
    kept: datetime
    format: str = ""
    device: str = ""
    exif: Mapping[str, Any] = field(default_factory=dict)
    taken: datetime | None = None


def find(db: Connection, sha256: str) -> KeptPhoto | None:
    """Return a photo by its SHA-256, or none."""
    row = db.execute(select(photos_table).where(photos_table.c.sha256 == sha256)).mappings().first()
    return KeptPhoto(**row) if row else None


def listed(db: Connection) -> list[KeptPhoto]:
    """Return all photos in the order they were kept."""
    query = select(photos_table).order_by(photos_table.c.kept, photos_table.c.sha256)
    return [KeptPhoto(**row) for row in db.execute(query).mappings()]


def keep(db: Connection, photo: KeptPhoto) -> None:
    """Note a photo; one that is known already stays as it was first noted."""
    if find(db, photo.sha256) is None:
        rows.add(db, photos_table, [asdict(photo)])
