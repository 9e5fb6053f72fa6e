"""A camera raw file made here, after the published DNG specification: no camera's own sample is at hand."""

from __future__ import annotations

import struct

import numpy as np
import pytest

from halfpan.core.colour.screen import linear_srgb_to_xyz
from halfpan.core.colour.spaces import D65
from halfpan.core.measuring.photo import light_at
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import open_pictures
from halfpan.files.photo.raw import camera_to_srgb

# an invented camera: XYZ under D65 to its red, green and blue
CAMERA = np.array([[0.82, -0.21, -0.08], [-0.45, 1.28, 0.19], [-0.06, 0.16, 0.63]])


def dng(mosaic, *, matrix=CAMERA, neutral=(0.5, 1.0, 0.6)):
    """Write a one-strip DNG with a red-green-green-blue mosaic, 16 bit, white 65535."""
    rows, cols = mosaic.shape
    pieces: list[tuple[int, int, int, bytes]] = []

    def add(tag, kind, values):
        code = {1: "B", 3: "H", 4: "I", 2: "c"}.get(kind)
        if kind == 10:
            raw = b"".join(struct.pack("<ii", round(v * 10000), 10000) for v in values)
        elif kind == 5:
            raw = b"".join(struct.pack("<II", round(v * 10000), 10000) for v in values)
        elif kind == 2:
            raw = values
        else:
            raw = struct.pack(f"<{len(values)}{code}", *values)
        pieces.append((tag, kind, len(values), raw))

    add(254, 4, [0])
    add(256, 4, [cols])
    add(257, 4, [rows])
    add(258, 3, [16])
    add(259, 3, [1])
    add(262, 3, [32803])
    add(271, 2, b"Tarn\x00")
    add(272, 2, b"Tarn Two\x00")
    add(273, 4, [0])
    add(274, 3, [1])
    add(277, 3, [1])
    add(278, 4, [rows])
    add(279, 4, [rows * cols * 2])
    add(284, 3, [1])
    add(33421, 3, [2, 2])
    add(33422, 1, [0, 1, 1, 2])
    add(50706, 1, [1, 4, 0, 0])
    add(50707, 1, [1, 1, 0, 0])
    add(50708, 2, b"Tarn Two\x00")
    add(50714, 4, [0])
    add(50717, 4, [65535])
    add(50721, 10, list(matrix.ravel()))
    add(50728, 5, list(neutral))
    add(50778, 3, [21])
    head = 8 + 2 + 12 * len(pieces) + 4
    blobs, entries = b"", b""
    where = {tag: raw for tag, _, _, raw in pieces}
    body_size = sum(len(raw) + len(raw) % 2 for raw in where.values() if len(raw) > 4)
    for tag, kind, count, raw in pieces:
        value = struct.pack("<I", head + body_size) if tag == 273 else raw
        if len(value) > 4:
            entries += struct.pack("<HHII", tag, kind, count, head + len(blobs))
            blobs += value + b"\x00" * (len(value) % 2)
        else:
            entries += struct.pack("<HHI", tag, kind, count) + value.ljust(4, b"\x00")
    directory = struct.pack("<H", len(pieces)) + entries + b"\x00" * 4
    return b"II*\x00" + struct.pack("<I", 8) + directory + blobs + mosaic.astype("<u2").tobytes()


def mosaic_of(srgb_linear, rows=200, cols=300, neutral=(0.5, 1.0, 0.6)):
    """What that camera's sensor would hold of a flat colour."""
    xyz_to_camera = CAMERA
    camera = xyz_to_camera @ linear_srgb_to_xyz(np.asarray(srgb_linear), white=D65)
    white = xyz_to_camera @ D65
    camera = camera / white * np.asarray(neutral)
    mosaic = np.empty((rows, cols))
    mosaic[::2, ::2] = camera[0]
    mosaic[::2, 1::2] = mosaic[1::2, ::2] = camera[1]
    mosaic[1::2, 1::2] = camera[2]
    return np.rint(np.clip(mosaic * 0.7 * 65535, 0, 65535))


@pytest.mark.parametrize("colour", [(0.4, 0.4, 0.4), (0.5, 0.1, 0.1), (0.1, 0.4, 0.15), (0.1, 0.15, 0.5)])
def test_a_raw_file_gives_the_colour_that_the_sensor_saw(colour):
    (picture,) = open_pictures(dng(mosaic_of(colour)), "chart.dng")
    rows, cols = picture.photo.shape
    light = light_at(picture.photo, np.array([[rows / 2, cols / 2]]))[0][0]
    assert light / light.sum() == pytest.approx(np.array(colour) / sum(colour), abs=0.004)
    assert picture.photo.pixels.dtype == np.uint16
    assert picture.photo.kind == "photo"
    assert picture.photo.device == "Tarn Two"


def test_light_of_a_raw_file_is_linear():
    lights = []
    for level in (0.1, 0.2, 0.4):
        (picture,) = open_pictures(dng(mosaic_of((level,) * 3)), "chart.dng")
        lights.append(light_at(picture.photo, np.array([[100.0, 150.0]]))[0][0, 1])
    assert lights[1] / lights[0] == pytest.approx(2.0, rel=0.01)
    assert lights[2] / lights[1] == pytest.approx(2.0, rel=0.01)


def test_a_sensor_that_is_full_counts_as_burnt_out():
    (picture,) = open_pictures(dng(np.full((200, 300), 65535)), "chart.dng")
    assert light_at(picture.photo, np.array([[100.0, 150.0]]))[1][0]


def test_white_stays_white_through_a_cameras_matrix():
    assert camera_to_srgb(CAMERA).sum(axis=1) == pytest.approx([1, 1, 1])


def test_a_camera_without_a_matrix_and_a_raw_file_cut_off_are_refused():
    with pytest.raises(np.linalg.LinAlgError):
        camera_to_srgb(np.zeros((3, 3)))
    whole = dng(mosaic_of((0.4, 0.4, 0.4)))
    with pytest.raises(UnreadablePhoto, match=r"^chart\.dng .*\.$"):
        open_pictures(whole[: len(whole) // 2], "chart.dng")
