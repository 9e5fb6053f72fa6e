"""What a picture file says of how it was taken: exposure, white balance, lens, device (EXIF 2.32).

Kept beside the readings as a witness; nothing is worked out from it but which device it was.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal

from PIL import Image

_MAKE, _MODEL, _ORIENTATION, _WHEN = 271, 272, 274, 306
_EXPOSURE, _F_NUMBER, _ISO, _TAKEN = 33434, 33437, 34855, 36867
_FOCAL, _SOURCE, _WHITE_BALANCE, _FOCAL_35, _LENS, _FLASH = 37386, 41728, 41987, 41989, 42036, 37385

_DIRECTORY = 0x8769

Kind = Literal["scan", "photo", ""]


@dataclass(frozen=True, slots=True)
class Taken:
    """How a picture was taken, as far as its file says; ``None`` and "" mean the file does not say.

    ``orientation`` is the EXIF number (1 upright); pixels have already been turned by it.
    """

    device: str = ""
    lens: str = ""
    when: datetime | None = None
    exposure_s: float | None = None
    f_number: float | None = None
    iso: int | None = None
    focal_length_mm: float | None = None
    focal_length_35_mm: float | None = None
    white_balance: str = ""
    flash: bool | None = None
    orientation: int = 1
    dots_per_inch: float | None = None
    kind: Kind = ""


def taken_from_exif(main: Mapping[int, Any], photo: Mapping[int, Any], dpi: float | None = None) -> Taken:
    """Return how a picture was taken from its two EXIF directories.

    Parameters
    ----------
    main : the first directory: make, model, orientation, time
    photo : the EXIF directory proper: exposure, lens, white balance
    dpi : dots an inch, where the file says
    """
    device = _device(_text(main.get(_MAKE)), _text(main.get(_MODEL)))
    exposure, f_number = _figure(photo.get(_EXPOSURE)), _figure(photo.get(_F_NUMBER))
    orientation = _figure(main.get(_ORIENTATION))
    iso = _figure(photo.get(_ISO))
    flash = _figure(photo.get(_FLASH))
    return Taken(
        device=device,
        lens=_text(photo.get(_LENS)),
        when=_moment(_text(photo.get(_TAKEN)) or _text(main.get(_WHEN))),
        exposure_s=exposure,
        f_number=f_number,
        iso=None if iso is None else int(iso),
        focal_length_mm=_figure(photo.get(_FOCAL)),
        focal_length_35_mm=_figure(photo.get(_FOCAL_35)),
        white_balance={0.0: "automatic", 1.0: "fixed"}.get(_figure(photo.get(_WHITE_BALANCE)) or 0.0, "")
        if photo.get(_WHITE_BALANCE) is not None
        else "",
        flash=None if flash is None else bool(int(flash) & 1),
        orientation=int(orientation) if orientation is not None and 1 <= orientation <= 8 else 1,
        dots_per_inch=dpi,
        kind=_kind(photo, device, dpi, exposed=exposure is not None or f_number is not None),
    )


def taken_from_bytes(exif: bytes) -> Taken:
    """Return how a picture was taken from raw EXIF bytes (a TIFF header and its directories)."""
    words = Image.Exif()
    with suppress(OSError, ValueError, TypeError, LookupError, SyntaxError, struct.error):
        if exif:
            words.load(exif if exif.startswith(b"Exif\x00\x00") else b"Exif\x00\x00" + exif)
            return taken_from_exif(dict(words), dict(words.get_ifd(_DIRECTORY)))
    return Taken()


def _kind(photo: Mapping[int, Any], device: str, dpi: float | None, *, exposed: bool) -> Kind:
    """Tell a scan from a photo: a shutter means a camera; EXIF FileSource 1 or 2 is a scanner."""
    source = photo.get(_SOURCE)
    source = source[0] if isinstance(source, bytes) and source else source
    if exposed or source == 3:
        return "photo"
    if source in {1, 2} or (device and dpi is not None and 100 <= dpi <= 4800):
        return "scan"
    return ""


def _device(make: str, model: str) -> str:
    """Join maker and model, once, where the model already starts with the maker's name."""
    return model if make and model.lower().startswith(make.lower()) else f"{make} {model}".strip()


def _text(value: Any) -> str:
    if isinstance(value, bytes):
        value = value.decode("utf-8", "replace")
    return str(value).replace("\x00", "").strip() if value is not None else ""


def _figure(value: Any) -> float | None:
    if isinstance(value, (tuple, list)):
        value = value[0] if value else None
    with suppress(TypeError, ValueError, ZeroDivisionError):
        figure = float(value)
        if figure == figure and abs(figure) < 1e12:  # noqa: PLR0124 - not a number
            return figure
    return None


def _moment(text: str) -> datetime | None:
    with suppress(ValueError):
        return datetime.strptime(text[:19], "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007 - EXIF states no zone
    return None
