"""Phone pictures (HEIC): decoded by the optional extra ``phone``, with their own profile and EXIF."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from halfpan.errors import UnreadablePhoto
from halfpan.files.photo.encoded import Header, picture_of
from halfpan.files.photo.picture import Picture, refuse_too_many_pixels
from halfpan.files.photo.taken import taken_from_bytes

_DISPLAY_P3 = 12  # colour primaries of ITU-T H.273


def phone_picture(data: bytes, name: str) -> Picture:
    """Decode a HEIC picture.

    Raises
    ------
    UnreadablePhoto
        When the extra is not installed, or the file is damaged.
    """
    try:
        import pi_heif
    except ImportError as trouble:
        raise UnreadablePhoto(
            f"{name} is a HEIC picture, which needs one more part: install halfpan[phone],"
            " or set the phone to save JPEG (most compatible)."
        ) from trouble
    try:
        found = pi_heif.open_heif(data, convert_hdr_to_8bit=False, bgr_mode=True)
        refuse_too_many_pixels(found.size[1], found.size[0], name)
        buffer = np.array(found)[:, : found.size[0]]  # a copy: the decoder frees its own; rows may be padded
    except (OSError, ValueError, RuntimeError, EOFError, SyntaxError) as trouble:
        raise UnreadablePhoto(f"{name} is damaged or of an unknown kind; send it again as JPEG.") from trouble
    if buffer.ndim == 2:
        buffer = np.repeat(buffer[..., None], 3, axis=-1)
    if buffer.dtype == np.uint16:
        buffer = buffer | (buffer >> found.info["bit_depth"])  # 10 or 12 bits, shifted up with nothing below
    taken = replace(
        taken_from_bytes(found.info.get("exif") or b""), orientation=1, kind="photo"
    )  # the decoder has turned it already
    header = Header(buffer.shape[0], buffer.shape[1], "HEIC", found.mode, _profile(found.info), taken)
    return picture_of(np.ascontiguousarray(buffer[..., :3]), header, name)


def _profile(info: dict[str, Any]) -> bytes:
    """Return the embedded profile; a picture that only names Display P3 by number gets that one."""
    icc: bytes = info.get("icc_profile") or b""
    if icc or (info.get("nclx_profile") or {}).get("color_primaries") != _DISPLAY_P3:
        return icc
    from halfpan.files.photo.profile import display_p3_profile

    return display_p3_profile()
