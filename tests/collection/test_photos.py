from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from sqlalchemy import Connection

from halfpan.collection import devices, photos
from halfpan.collection.devices import KeptDevice
from halfpan.collection.photos import KeptPhoto

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
PHOTO = KeptPhoto("ab" * 32, "scan.jpg", 1234, NOW, device="Flatbed", exif={"iso": 100})


def test_a_photo_stays_as_it_was_first_noted(db: Connection) -> None:
    photos.keep(db, PHOTO)
    photos.keep(db, replace(PHOTO, name="copy of scan.jpg"))
    assert photos.listed(db) == [PHOTO]
    assert photos.find(db, "cd" * 32) is None


def test_a_device_is_known_by_its_latest_profile(db: Connection) -> None:
    devices.keep(db, KeptDevice("Flatbed", {"mean": [1.0]}, "0.1.0", NOW))
    devices.keep(db, KeptDevice("Flatbed", {"mean": [2.0]}, "0.1.0", NOW))
    found = devices.find(db, "Flatbed")
    assert found is not None
    assert found.profile == {"mean": [2.0]}
    assert len(devices.listed(db)) == 1
