"""Cameras and scanners that were seen with a target: how they answered, kept by their own name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select

from halfpan.collection import rows
from halfpan.collection.tables import devices as devices_table


@dataclass(frozen=True, slots=True)
class KeptDevice:
    """A device and the numbers of its response, as the version that fitted them wrote them."""

    device: str
    profile: Mapping[str, Any]
    version: str
    seen: datetime


def find(db: Connection, device: str) -> KeptDevice | None:
    """Return what is known of a device, or none."""
    row = db.execute(select(devices_table).where(devices_table.c.device == device)).mappings().first()
    return KeptDevice(**row) if row else None


def listed(db: Connection) -> list[KeptDevice]:
    """Return all devices by name."""
    query = select(devices_table).order_by(devices_table.c.device)
    return [KeptDevice(**row) for row in db.execute(query).mappings()]


def keep(db: Connection, device: KeptDevice) -> None:
    """Keep how a device answered, in place of what was known of it."""
    values = {"profile": dict(device.profile), "version": device.version, "seen": device.seen}
    if find(db, device.device) is None:
        rows.add(db, devices_table, [values | {"device": device.device}])
    else:
        rows.alter(db, devices_table, {"device": device.device}, values)
