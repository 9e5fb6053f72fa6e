"""Scanner profiles that map colours through a table (ICC.1:2022, 10.10-10.12: lut8, lut16, lutAToB).

The whole picture is taken through the table once, in floats, into 16 bit linear light of very wide
primaries, so that nothing a scanner can see is cut off at the border of sRGB.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import map_coordinates

from halfpan.core.colour.screen import xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo.profile import Array, Profile, curve_values

# Wide primaries of ISO 22028-2 (reference output medium), white D50: columns are XYZ of R, G, B
_WIDE = np.array(
    [[0.7976749, 0.1351917, 0.0313534], [0.2880402, 0.7118741, 0.0000857], [0.0, 0.0, 0.8252100]]
)
_UNIT = 0.9  # the stored share of 65535 that stands for linear 1, leaving room above white
_STRIP = 2_000_000


@dataclass(frozen=True, slots=True, eq=False)
class Steps:
    """One table profile: curves in, table, middle curves, matrix, curves out; all values 0-1."""

    inward: list[Array]
    table: NDArray[np.float64]
    middle: list[Array] | None
    matrix: Array | None
    outward: list[Array]
    lab_scale: tuple[Array, Array]


@dataclass(frozen=True, slots=True, eq=False)
class WideLight:
    """A picture in 16 bit linear light of wide primaries, red first."""

    pixels: NDArray[np.uint16]
    decode: NDArray[np.float32]
    matrix: Array


def light_through_tables(profile: Profile, pixels: NDArray[Any], name: str) -> WideLight:
    """Take a picture through its profile's table.

    Parameters
    ----------
    pixels : array, shape (rows, cols, 3), uint8 or uint16, red first

    Raises
    ------
    UnreadablePhoto
        When the table is of a kind or size that cannot be used.
    """
    try:
        steps = read_steps(profile)
    except (KeyError, struct.error, ValueError) as trouble:
        raise UnreadablePhoto(
            f"The colour profile inside {name} cannot be used; scan again with the scanner set to sRGB."
        ) from trouble
    top = np.iinfo(pixels.dtype).max
    burnt = int(top * 250 / 255)
    flat = np.ascontiguousarray(pixels).reshape(-1, 3)
    wide = np.empty(flat.shape, np.uint16)
    for start in range(0, len(flat), _STRIP):
        strip = flat[start : start + _STRIP]
        light = device_to_xyz(profile, steps, strip / top) @ np.linalg.inv(_WIDE).T
        stored = np.clip(np.rint(light * _UNIT * 65535), 0, 64000).astype(np.uint16)
        stored[strip >= burnt] = 65535
        wide[start : start + _STRIP] = stored
    decode = (np.arange(65536) / (65535 * _UNIT)).astype(np.float32)
    matrix = xyz_to_linear_srgb(_WIDE.T).T
    return WideLight(
        wide.reshape(pixels.shape),
        np.repeat(decode[:, None], 3, axis=1),
        matrix / matrix.sum(axis=1, keepdims=True),
    )


def device_to_xyz(profile: Profile, steps: Steps, device: Array) -> Array:
    """Return D50 tristimulus values, shape (n, 3), of device values 0-1."""
    grid = np.array(steps.table.shape[:3]) - 1.0
    at = np.stack([_through(steps.inward[c], device[:, c]) * grid[c] for c in range(3)])
    values = np.stack(
        [map_coordinates(steps.table[..., c], at, order=1, mode="nearest") for c in range(3)], axis=-1
    )
    if steps.middle is not None and steps.matrix is not None:
        values = np.stack([_through(steps.middle[c], values[:, c]) for c in range(3)], axis=-1)
        values = values @ steps.matrix[:, :3].T + steps.matrix[:, 3]
    values = np.stack([_through(steps.outward[c], values[:, c]) for c in range(3)], axis=-1)
    if profile.connection == "Lab":
        scale, offset = steps.lab_scale
        return lab_to_xyz(values * scale + offset)
    xyz: Array = values * (1.0 + 32767.0 / 32768.0)
    return xyz


def read_steps(profile: Profile) -> Steps:
    """Read a profile's device-to-colour table, the measured (colorimetric) one where it has it."""
    tag = profile.tags.get("A2B1") or profile.tags["A2B0"]
    if tag[:4] == b"mAB ":
        return _newer(tag)
    if tag[:4] not in {b"mft1", b"mft2"}:
        raise ValueError("unknown table")
    return _older(tag)


def _older(tag: bytes) -> Steps:
    """Read lut8Type or lut16Type; 16 bit Lab is in the older coding, where 65280 is L* 100."""
    ins, outs, grid = tag[8], tag[9], tag[10]
    if (ins, outs) != (3, 3):
        raise ValueError("not three channels")
    wide = tag[:4] == b"mft2"
    entries = struct.unpack_from(">HH", tag, 48) if wide else (256, 256)
    kind, top, at = (">u2", 65535.0, 52) if wide else (">u1", 255.0, 48)
    counts = (3 * entries[0], grid**3 * 3, 3 * entries[1])
    values = np.frombuffer(tag, kind, sum(counts), at).astype(np.float64) / top
    first, table, last = np.split(values, np.cumsum(counts)[:-1])
    code = 65535.0 / 65280.0 if wide else 1.0
    scale = np.array([100.0, 255.0, 255.0]) * code
    return Steps(
        list(first.reshape(3, -1)),
        table.reshape(grid, grid, grid, 3),
        None,
        None,
        list(last.reshape(3, -1)),
        (scale, np.array([0.0, -128.0, -128.0])),
    )


def _newer(tag: bytes) -> Steps:
    """Read lutAToBType, all five of its steps."""
    if (tag[8], tag[9]) != (3, 3):
        raise ValueError("not three channels")
    b, matrix, m, table, a = struct.unpack_from(">5I", tag, 12)
    if not table or not a:
        raise ValueError("no table")
    grid = tuple(tag[table : table + 3])
    kind, top = ((">u1", 255.0), (">u2", 65535.0))[tag[table + 16] - 1]
    values = np.frombuffer(tag, kind, int(np.prod(grid)) * 3, table + 20).astype(np.float64) / top
    scale = np.array([100.0, 255.0, 255.0])
    return Steps(
        _curves(tag, a),
        values.reshape(*grid, 3),
        _curves(tag, m) if m else None,
        _matrix(tag, matrix) if matrix else None,
        _curves(tag, b),
        (scale, np.array([0.0, -128.0, -128.0])),
    )


def _matrix(tag: bytes, at: int) -> Array:
    e = np.array(struct.unpack_from(">12i", tag, at)) / 65536.0
    return np.column_stack([e[:9].reshape(3, 3), e[9:]])


def _curves(tag: bytes, at: int) -> list[Array]:
    """Read three tone curves that follow one another, each padded to four bytes."""
    curves, x = [], np.linspace(0.0, 1.0, 4096)
    for _ in range(3):
        curves.append(curve_values(tag[at:], x))
        if tag[at : at + 4] == b"curv":
            size = 12 + 2 * int(struct.unpack_from(">I", tag, at + 8)[0])
        else:
            size = 12 + 4 * (1, 3, 4, 5, 7)[struct.unpack_from(">H", tag, at + 8)[0]]
        at += (size + 3) // 4 * 4
    return curves


def _through(curve: Array, x: Array) -> Array:
    """Take values 0-1 through a curve of evenly spaced points."""
    out: Array = np.interp(x, np.linspace(0.0, 1.0, len(curve)), curve)
    return out
