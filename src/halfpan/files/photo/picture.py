"""One door for every kind of picture file: told apart by its first bytes, never by its name.

JPEG, PNG, 8 and 16 bit TIFF of one or more pages, PDF scans, phone pictures (HEIC, with the extra
``phone``) and camera raw files. Each page comes out as the pixels the file holds, turned upright, with a
table to linear light and a matrix to linear sRGB worked out from the file's own colour profile.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from halfpan.core.measuring.photo import Photo
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo.taken import Taken
from halfpan.files.whole import read_whole

MOST_BYTES = 600_000_000
MOST_PIXELS = 150_000_000  # an A4 sheet at 1200 dots an inch


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """One page of a picture file, and what the file says of how it was taken."""

    photo: Photo
    taken: Taken = field(default_factory=Taken)
    page: int = 1


def load_photo(path: Path, page: int = 1) -> Photo:
    """Return one page of a picture file as numbers.

    Raises
    ------
    UnreadablePhoto
        When the file is missing, damaged, too big, of an unknown kind, or has no such page.
    """
    pictures = open_pictures(read_bytes(path), path.name)
    if not 1 <= page <= len(pictures):
        raise UnreadablePhoto(f"{path.name} has {len(pictures)} page(s), so there is no page {page} to read.")
    return pictures[page - 1].photo


def read_bytes(path: Path) -> bytes:
    """Return the bytes of a picture file, or refuse in one sentence."""
    return read_whole(path, MOST_BYTES, UnreadablePhoto, smaller="scan it at 600 dots an inch")


def open_pictures(data: bytes, name: str) -> tuple[Picture, ...]:
    """Decode every page of a picture file that is already in memory.

    Parameters
    ----------
    data : the file's bytes, as they were stored
    name : what to call the file in a sentence

    Returns
    -------
    pictures : one for each page, in order; never empty

    Raises
    ------
    UnreadablePhoto
        When the bytes are not a picture that can be measured.
    """
    if not data:
        raise UnreadablePhoto(f"{name} is empty; copy it from the camera or scanner again.")
    if len(data) > MOST_BYTES:
        raise UnreadablePhoto(
            f"{name} is larger than {MOST_BYTES // 1_000_000} MB; scan it at 600 dots an inch."
        )
    if data[:5] == b"%PDF-":
        from halfpan.files.photo.pdf_scan import pdf_pages

        return pdf_pages(data, name)
    if data[4:8] == b"ftyp" and data[8:12] not in {b"crx ", b"avif"}:
        from halfpan.files.photo.phone import phone_picture

        return (phone_picture(data, name),)
    if is_camera_raw(data):
        from halfpan.files.photo.raw import raw_picture

        return (raw_picture(data, name),)
    from halfpan.files.photo.encoded import encoded_pictures

    return encoded_pictures(data, name)


def is_camera_raw(data: bytes) -> bool:
    """Say whether the bytes are a camera's raw file that wears a TIFF's or a phone picture's first bytes."""
    if data[4:12] == b"ftypcrx ":
        return True
    if data[:4] not in {b"II*\x00", b"MM\x00*"}:
        return False
    from halfpan.files.photo.tiff_tags import has_raw_mosaic

    return data[8:10] == b"CR" or has_raw_mosaic(data)


def refuse_too_many_pixels(rows: int, cols: int, name: str) -> None:
    """Refuse a picture of more pixels than can be read in the memory of a small computer."""
    if rows * cols > MOST_PIXELS:
        raise UnreadablePhoto(
            f"{name} has {rows * cols / 1e6:.0f} million pixels; the most that can be read"
            f" is {MOST_PIXELS // 1_000_000} million. Scan it at 600 dots an inch."
        )
    if min(rows, cols) < 16:
        raise UnreadablePhoto(f"{name} is only {cols} x {rows} pixels, too small to hold a painted chart.")


def too_many_pixels(name: str) -> UnreadablePhoto:
    """Return the refusal of a picture so large that its header alone is turned away."""
    return UnreadablePhoto(
        f"{name} has more than {MOST_PIXELS // 1_000_000} million pixels, the most that can be read."
        " Scan it at 600 dots an inch."
    )
