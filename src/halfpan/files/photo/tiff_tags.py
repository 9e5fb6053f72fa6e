"""Just enough of TIFF to tell a scan from a camera's raw file, which wears the same first bytes.

Tag numbers: TIFF 6.0 (1992), TIFF/EP (ISO 12234-2) and the published DNG specification.
"""

from __future__ import annotations

import struct

_PHOTOMETRIC, _SUB_IMAGES, _DNG_VERSION = 262, 330, 50706
_MOSAIC, _LINEAR_RAW = 32803, 34892
_SIZES = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4}


def has_raw_mosaic(data: bytes) -> bool:
    """Say whether a TIFF holds a sensor mosaic or calls itself a DNG.

    Broken directories count as "no": the ordinary reader then refuses the file in its own words.
    """
    order = "<" if data[:2] == b"II" else ">"
    waiting, seen = [_number(data, 4, order, 4)], set[int]()
    while waiting and len(seen) < 64:
        at = waiting.pop()
        if at in seen or not 8 <= at < len(data) - 2:
            continue
        seen.add(at)
        tags, following = _directory(data, at, order)
        photometric = tags.get(_PHOTOMETRIC, [0])[0]
        if _DNG_VERSION in tags or photometric in {_MOSAIC, _LINEAR_RAW}:
            return True
        waiting += tags.get(_SUB_IMAGES, [])
        waiting.append(following)
    return False


def _directory(data: bytes, at: int, order: str) -> tuple[dict[int, list[int]], int]:
    """Return the whole-number tags of one directory, and where the next directory starts."""
    count = _number(data, at, order, 2)
    tags: dict[int, list[int]] = {}
    for entry in range(at + 2, min(at + 2 + 12 * count, len(data) - 11), 12):
        tag, kind = struct.unpack_from(order + "HH", data, entry)
        if tag not in {_PHOTOMETRIC, _SUB_IMAGES, _DNG_VERSION}:
            continue
        width, n = _SIZES.get(kind, 0), _number(data, entry + 4, order, 4)
        place = entry + 8 if width * n <= 4 else _number(data, entry + 8, order, 4)
        tags[tag] = [_number(data, place + width * k, order, width) for k in range(min(n, 16))] or [0]
    return tags, _number(data, at + 2 + 12 * count, order, 4)


def _number(data: bytes, at: int, order: str, width: int) -> int:
    """Read a whole number, 0 past the end."""
    if width not in {1, 2, 4} or not 0 <= at <= len(data) - width:
        return 0
    return int(struct.unpack_from(order + {1: "B", 2: "H", 4: "I"}[width], data, at)[0])
