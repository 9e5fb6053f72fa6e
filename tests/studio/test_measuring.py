from __future__ import annotations

import json
from datetime import datetime

import numpy as np

from halfpan.collection import devices
from halfpan.collection.devices import KeptDevice
from halfpan.core.measuring.photo import Photo
from halfpan.core.measuring.response import usual_prior, without_patches
from halfpan.studio.measuring import _room_beside, profile_of, response_of

from .conftest import PaintedChart


def test_what_a_device_made_of_colour_survives_being_kept(painted: PaintedChart, now: datetime) -> None:
    response = without_patches(usual_prior((94.0, 0.5, 2.0)), "paper")
    with painted.studio.transaction() as db:
        devices.keep(db, KeptDevice("Flatbed", json.loads(json.dumps(profile_of(response))), "0.1.0", now))
        kept = devices.find(db, "Flatbed")
    assert kept is not None
    again = response_of(kept.profile)
    assert np.array_equal(again.mean, response.mean)
    assert np.array_equal(again.covariance, response.covariance)
    assert (again.tier, again.anchors) == ("paper", None)


def test_a_profile_with_numbers_unknown_to_this_version_is_still_read() -> None:
    profile = profile_of(without_patches(usual_prior(), "paper")) | {"smell": 3}
    assert response_of(profile).tier == "paper"


def test_a_scan_of_the_whole_sheet_has_no_room_for_a_target() -> None:
    photo = Photo(np.zeros((200, 100, 3), np.uint8), np.zeros((256, 3), np.float32))
    assert not _room_beside(((0, 0), (0, 100), (200, 100), (200, 0)), photo)
    assert _room_beside(((20, 10), (20, 90), (180, 90), (180, 10)), photo)
