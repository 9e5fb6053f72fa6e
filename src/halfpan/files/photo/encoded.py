"""JPEG, PNG, TIFF and the like: pixels through OpenCV as they are stored, the rest through Pillow's header.

Pixels keep the file's own integers: Pillow would quietly make 8 bits of a 16 bit TIFF.
"""

from __future__ import annotations

import io
import struct
import warnings
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image, UnidentifiedImageError

from halfpan.core.measuring.photo import Photo
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo.picture import Picture, refuse_too_many_pixels, too_many_pixels
from halfpan.files.photo.profile import Array, light_of_profile, parse_profile, srgb_decode
from halfpan.files.photo.taken import Taken, taken_from_exif

_TURNS = {
    3: cv2.ROTATE_180,
    6: cv2.ROTATE_90_CLOCKWISE,
    8: cv2.ROTATE_90_COUNTERCLOCKWISE,
    5: cv2.ROTATE_90_CLOCKWISE,
    7: cv2.ROTATE_90_COUNTERCLOCKWISE,
    4: cv2.ROTATE_180,
}
_MIRRORED = {2, 4, 5, 7}
_EXIF_DIRECTORY, _ORIENTATION = 0x8769, 274
_DAMAGE = (
    OSError,
    EOFError,
    ValueError,
    TypeError,
    LookupError,
    SyntaxError,
    ArithmeticError,
    struct.error,
)
_READ = cv2.IMREAD_COLOR | cv2.IMREAD_ANYDEPTH | cv2.IMREAD_IGNORE_ORIENTATION


@dataclass(frozen=True, slots=True, eq=False)
class Header:
    """What can be known of a page without decoding it."""

    rows: int
    cols: int
    format: str
    mode: str
    profile: bytes
    taken: Taken


def encoded_pictures(data: bytes, name: str) -> tuple[Picture, ...]:
    """Decode every page of a JPEG, PNG, TIFF or other plain picture file.

    Raises
    ------
    UnreadablePhoto
        When it is damaged, cut off, too big, or stored in printing inks.
    """
    try:
        headers = read_headers(data, name)
    except UnidentifiedImageError:
        from halfpan.files.photo.raw import raw_picture

        return (raw_picture(data, name),)
    if headers[0].format == "JPEG" and not jpeg_is_whole(data):
        raise UnreadablePhoto(f"{name} is cut off before its end; copy it from the camera or scanner again.")
    buffers = _decode(data, len(headers), name)
    if len(headers) == 1:
        return (picture_of(buffers[0], headers[0], name),)
    return tuple(
        picture_of(buffer, header, f"{name}, page {page}", page=page)
        for page, (buffer, header) in enumerate(zip(buffers, headers, strict=True), start=1)
    )


def read_headers(data: bytes, name: str) -> list[Header]:
    """Return what the file says of each of its pages, and refuse what cannot be read from there."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            image = Image.open(io.BytesIO(data))
        except UnidentifiedImageError:
            raise
        except Image.DecompressionBombError as trouble:
            raise too_many_pixels(name) from trouble
        except _DAMAGE as trouble:
            raise UnreadablePhoto(f"{name} is damaged; scan or copy it again.") from trouble
        with image:
            return _pages(image, name)


def _pages(image: Image.Image, name: str) -> list[Header]:
    headers: list[Header] = []
    try:
        pages = int(getattr(image, "n_frames", 1)) if image.format == "TIFF" else 1
        for page in range(min(pages, 200)):
            image.seek(page)
            refuse_too_many_pixels(image.height, image.width, name)  # a PNG is decoded for its EXIF
            headers.append(_header(image))
    except Image.DecompressionBombError as trouble:
        raise too_many_pixels(name) from trouble
    except _DAMAGE as trouble:
        raise UnreadablePhoto(
            f"{name} is damaged in page {len(headers) + 1}; scan or copy it again."
        ) from trouble
    for header in headers:
        if header.mode in {"CMYK", "YCCK"}:
            raise UnreadablePhoto(
                f"{name} is stored in printing inks; save it as RGB (sRGB) and read it again."
            )
    return headers


def _header(image: Image.Image) -> Header:
    exif = dict(image.getexif())
    if image.format == "TIFF":
        exif.pop(_ORIENTATION, None)  # OpenCV has turned a TIFF already, whatever it is told
    dpi = image.info.get("dpi")
    taken = taken_from_exif(
        exif, dict(image.getexif().get_ifd(_EXIF_DIRECTORY)), float(dpi[0]) if dpi else None
    )
    return Header(
        rows=image.height,
        cols=image.width,
        format=image.format or "",
        mode=image.mode,
        profile=image.info.get("icc_profile") or b"",
        taken=taken,
    )


def jpeg_is_whole(data: bytes) -> bool:
    """Say whether a JPEG's picture data comes to its end (ITU-T T.81: SOS ... EOI).

    Segments before the first scan are stepped over, so that the end of a thumbnail does not count.
    """
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        if data[at + 1] == 0xDA:
            return data.rfind(b"\xff\xd9", at) >= 0
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
    return False


def _decode(data: bytes, pages: int, name: str) -> list[NDArray[Any]]:
    """Return the stored pixels of each page, blue first."""
    buffer = np.frombuffer(data, np.uint8)
    cv2.utils.logging.setLogLevel(cv2.utils.logging.LOG_LEVEL_SILENT)  # damage is told in our own sentence
    try:
        if pages == 1:
            one: NDArray[Any] | None = cv2.imdecode(buffer, _READ)
            found: list[NDArray[Any]] = [] if one is None else [one]
        else:
            found = list(cv2.imdecodemulti(buffer, _READ)[1])
    except cv2.error as trouble:
        raise UnreadablePhoto(f"{name} is damaged; scan or copy it again.") from trouble
    if len(found) != pages or any(page is None for page in found):
        raise UnreadablePhoto(f"{name} is damaged or cut off; scan or copy it again.")
    return found


def picture_of(buffer: NDArray[Any], header: Header, name: str, page: int = 1) -> Picture:
    """Turn decoded pixels upright and settle their light.

    Parameters
    ----------
    buffer : array, shape (rows, cols, 3), uint8 or uint16, blue first, as stored
    """
    if buffer.dtype not in (np.uint8, np.uint16):
        raise UnreadablePhoto(f"{name} holds {buffer.dtype} numbers; save it with 8 or 16 bits a channel.")
    levels = 256 if buffer.dtype == np.uint8 else 65536
    pixels = turn_upright(buffer, header.taken.orientation)
    light = settle_light(pixels, header.profile, levels, name)
    photo = Photo(
        pixels=light.pixels,
        decode=light.decode,
        matrix=light.matrix,
        clip_level=250 if light.pixels.dtype == np.uint8 else 64250,
        device=header.taken.device or light.device,
        kind=header.taken.kind,
        name=name,
    )
    return Picture(photo, header.taken, page)


@dataclass(frozen=True, slots=True, eq=False)
class SettledLight:
    """Pixels, red first, with the table and matrix that make linear sRGB of them."""

    pixels: NDArray[Any]
    decode: NDArray[np.float32]
    matrix: Array
    device: str = ""


def settle_light(buffer: NDArray[Any], icc: bytes, levels: int, name: str) -> SettledLight:
    """Work out the way to linear light from the file's profile, or take it as sRGB where it has none."""
    red_first = buffer[..., ::-1]
    if not icc:
        return SettledLight(red_first, srgb_decode(levels), np.eye(3))
    profile = parse_profile(icc, name)
    device = profile.description if profile.device_class == "scnr" else ""
    if profile.has_tables and profile.space == "RGB":
        from halfpan.files.photo.table_profile import light_through_tables

        wide = light_through_tables(profile, red_first, name)
        return SettledLight(wide.pixels, wide.decode, wide.matrix, device)
    decode, matrix = light_of_profile(profile, levels, name)
    return SettledLight(red_first, decode, matrix, device)


def turn_upright(buffer: NDArray[Any], orientation: int) -> NDArray[Any]:
    """Turn stored pixels the way they are to be looked at (EXIF orientation 1-8)."""
    turned = cv2.rotate(buffer, _TURNS[orientation]) if orientation in _TURNS else buffer
    upright: NDArray[Any] = cv2.flip(turned, 1) if orientation in _MIRRORED else turned
    return upright
