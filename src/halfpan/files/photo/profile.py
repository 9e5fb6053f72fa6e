"""A file's own colour profile (ICC.1:2022): stored values to linear light, device light to linear sRGB.

Profiles of three curves and three primaries (and grey ones) are worked out in floats from their tags; the
result keeps colours outside sRGB. Table profiles are in `table_profile`. Profile colours are D50.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.screen import decode_srgb, xyz_to_linear_srgb
from halfpan.errors import UnreadablePhoto

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """A parsed ICC profile: header words and tags as bytes."""

    device_class: str
    space: str
    connection: str
    tags: dict[str, bytes]
    description: str

    @property
    def has_tables(self) -> bool:
        """Whether it maps colours through a table rather than by curves and primaries alone."""
        return "A2B0" in self.tags and (self.device_class == "scnr" or "rXYZ" not in self.tags)


def parse_profile(data: bytes, name: str) -> Profile:
    """Read header and tag table of an ICC profile.

    Raises
    ------
    UnreadablePhoto
        When the profile is cut off or is no profile.
    """
    if len(data) < 132 or data[36:40] != b"acsp":
        raise UnreadablePhoto(
            f"The colour profile inside {name} is damaged; save the picture again with sRGB."
        )
    (count,) = struct.unpack_from(">I", data, 128)
    if count > 200 or 132 + 12 * count > len(data):
        raise UnreadablePhoto(
            f"The colour profile inside {name} is damaged; save the picture again with sRGB."
        )
    tags: dict[str, bytes] = {}
    for k in range(count):
        sign, offset, size = struct.unpack_from(">4sII", data, 132 + 12 * k)
        tags[sign.decode("latin-1")] = data[offset : offset + size]
    words = [data[a : a + 4].decode("latin-1") for a in (12, 16, 20)]
    return Profile(words[0], words[1].strip(), words[2].strip(), tags, _description(tags.get("desc", b"")))


def srgb_decode(levels: int) -> NDArray[np.float32]:
    """Return the table from stored value to linear light of a file that says nothing: sRGB."""
    curve = decode_srgb(np.linspace(0.0, 1.0, levels)).astype(np.float32)
    return np.repeat(curve[:, None], 3, axis=1)


def light_of_profile(profile: Profile, levels: int, name: str) -> tuple[NDArray[np.float32], Array]:
    """Return decode table and matrix to linear sRGB of a profile of curves and primaries.

    Parameters
    ----------
    levels : 256 or 65536

    Returns
    -------
    decode : array, shape (levels, 3)
    matrix : array, shape (3, 3); rows sum to 1, so the device's white stays white

    Raises
    ------
    UnreadablePhoto
        When the profile is for printing inks, or lacks its curves.
    """
    x = np.linspace(0.0, 1.0, levels)
    try:
        if profile.space == "GRAY":
            return np.repeat(curve_values(profile.tags["kTRC"], x)[:, None], 3, axis=1).astype(
                np.float32
            ), np.eye(3)
        if profile.space != "RGB":
            raise UnreadablePhoto(
                f"{name} is stored in printing inks; save it as RGB (sRGB) and read it again."
            )
        curves = [curve_values(profile.tags[c + "TRC"], x) for c in "rgb"]
        primaries = np.stack([_xyz(profile.tags[c + "XYZ"]) for c in "rgb"], axis=-1)
    except (KeyError, struct.error, ValueError) as trouble:
        raise UnreadablePhoto(
            f"The colour profile inside {name} cannot be used; save the picture again with sRGB."
        ) from trouble
    matrix = xyz_to_linear_srgb(primaries.T).T
    matrix = matrix / matrix.sum(axis=1, keepdims=True)
    return np.stack(curves, axis=-1).astype(np.float32), matrix


def _xyz(tag: bytes) -> Array:
    return np.array(struct.unpack_from(">3i", tag, 8)) / 65536.0


def curve_values(tag: bytes, x: Array) -> Array:
    """Return a tone curve at ``x`` (ICC.1:2022, 10.6 curveType and 10.18 parametricCurveType)."""
    if tag[:4] == b"curv":
        (count,) = struct.unpack_from(">I", tag, 8)
        if count == 0:
            return x.copy()
        values = np.frombuffer(tag, ">u2", count, 12).astype(np.float64)
        if count == 1:
            return np.asarray(x ** (values[0] / 256.0))
        return np.interp(x, np.linspace(0.0, 1.0, count), values / 65535.0)
    if tag[:4] != b"para":
        raise ValueError("unknown tone curve")
    (kind,) = struct.unpack_from(">H", tag, 8)
    return _parametric(kind, np.frombuffer(tag, ">i4", (1, 3, 4, 5, 7)[kind], 12) / 65536.0, x)


def _parametric(kind: int, parameters: Array, x: Array) -> Array:
    """Return the five formulas of parametricCurveType, in the standard's own letters."""
    g, a, b, c, d, e, f = np.concatenate([parameters, np.zeros(7 - len(parameters))])
    if kind == 0:
        return np.asarray(x**g)
    power = np.maximum(a * x + b, 0.0) ** g
    if kind == 1:
        return np.asarray(np.where(x >= -b / a, power, 0.0))
    if kind == 2:
        return np.asarray(np.where(x >= -b / a, power + c, c))
    return np.asarray(np.where(x >= d, power + e, c * x + f))


def _description(tag: bytes) -> str:
    """Return the profile's name, from the old and the new kind of text tag."""
    if tag[:4] == b"desc" and len(tag) > 12:
        (n,) = struct.unpack_from(">I", tag, 8)
        return tag[12 : 12 + n].decode("latin-1").rstrip("\x00").strip()
    if tag[:4] == b"mluc" and len(tag) >= 28:
        n, at = struct.unpack_from(">II", tag, 20)
        return tag[at : at + n].decode("utf-16-be", "replace").strip("\x00 ")
    return ""


def display_p3_profile() -> bytes:
    """Return an ICC profile of Display P3, for files that name it by number alone (ITU-T H.273, 12)."""
    from halfpan.core.colour.screen import linear_p3_to_xyz

    primaries = linear_p3_to_xyz(np.eye(3))
    curve = b"para\x00\x00\x00\x00" + struct.pack(
        ">HH5i", 3, 0, *(round(v * 65536) for v in (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045))
    )
    tags = {
        f"{c}XYZ": b"XYZ \x00\x00\x00\x00" + struct.pack(">3i", *(round(v * 65536) for v in xyz))
        for c, xyz in zip("rgb", primaries, strict=True)
    }
    tags |= {f"{c}TRC": curve for c in "rgb"}
    return profile_bytes("mntr", "RGB ", "XYZ ", tags)


def profile_bytes(device_class: str, space: str, connection: str, tags: dict[str, bytes]) -> bytes:
    """Return an ICC profile of given tags (ICC.1:2022, 7.2 and 7.3)."""
    at = 132 + 12 * len(tags)
    table, body = struct.pack(">I", len(tags)), b""
    for sign, value in tags.items():
        table += struct.pack(">4sII", sign.encode("latin-1"), at + len(body), len(value))
        body += value + b"\x00" * (-len(value) % 4)
    head = bytearray(128)
    struct.pack_into(
        ">I4sI4s4s4s",
        head,
        0,
        at + len(body),
        b"\x00" * 4,
        0x04400000,
        device_class.encode(),
        space.encode(),
        connection.encode(),
    )
    head[36:40] = b"acsp"
    struct.pack_into(">3i", head, 68, 0xF6D6, 0x10000, 0xD32D)
    return bytes(head) + table + body
