"""Write a camera raw file after the published DNG specification, for an invented camera."""

from __future__ import annotations

import struct

import numpy as np

from halfpan.core.colour.screen import linear_srgb_to_xyz
from halfpan.core.colour.spaces import D65

CAMERA = np.array([[0.82, -0.21, -0.08], [-0.45, 1.28, 0.19], [-0.06, 0.16, 0.63]])
"""An invented camera: XYZ under D65 to its red, green and blue."""


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
    """What that camera's sensor would hold of a flat colour, shape (3,), or of a picture, (rows, cols, 3)."""
    seen = linear_srgb_to_xyz(np.asarray(srgb_linear, dtype=float), white=D65) @ CAMERA.T
    camera = np.broadcast_to(seen / (CAMERA @ D65) * np.asarray(neutral), (rows, cols, 3))
    mosaic = np.empty((rows, cols))
    mosaic[::2, ::2] = camera[::2, ::2, 0]
    mosaic[::2, 1::2], mosaic[1::2, ::2] = camera[::2, 1::2, 1], camera[1::2, ::2, 1]
    mosaic[1::2, 1::2] = camera[1::2, 1::2, 2]
    return np.rint(np.clip(mosaic * 0.7 * 65535, 0, 65535))
