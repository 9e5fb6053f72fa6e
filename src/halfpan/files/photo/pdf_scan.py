"""Scans kept as PDF: each page's own picture where it is one, or the page drawn at a scanner's resolution."""

from __future__ import annotations

from typing import Any

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_raw

from halfpan.errors import UnreadablePhoto
from halfpan.files.photo.encoded import Header, encoded_pictures, picture_of
from halfpan.files.photo.picture import Picture, refuse_too_many_pixels
from halfpan.files.photo.taken import Taken

_LEAST_DPI, _MOST_DPI = 300.0, 600.0
_WHOLE_PAGE = 0.9


def pdf_pages(data: bytes, name: str) -> tuple[Picture, ...]:
    """Return the picture on each page of a scanned PDF.

    A page that is one JPEG gives that JPEG's own pixels; any other page is drawn at the resolution of the
    finest picture on it, 300 to 600 dots an inch.

    Raises
    ------
    UnreadablePhoto
        When the file is damaged, locked, or its pages are too big.
    """
    try:
        document = pdfium.PdfDocument(data)
    except pdfium.PdfiumError as trouble:
        raise UnreadablePhoto(
            f"{name} is a damaged or locked PDF; save the scan as JPEG, PNG or TIFF."
        ) from trouble
    try:
        count = len(document)
        if count == 0:
            raise UnreadablePhoto(f"{name} is a PDF without pages; scan the sheet again.")
        if count > 200:
            raise UnreadablePhoto(f"{name} has {count} pages, more than a chart can have; split it up.")
        return tuple(
            _page(document, k, name if count == 1 else f"{name}, page {k + 1}") for k in range(count)
        )
    finally:
        document.close()


def _page(document: Any, index: int, name: str) -> Picture:
    try:
        page = document[index]
        images = list(page.get_objects(filter=[pdfium_raw.FPDF_PAGEOBJ_IMAGE], max_depth=3))
        area = page.get_width() * page.get_height()
        if len(images) == 1 and _covers(images[0], area) and page.get_rotation() == 0:
            whole = _own_jpeg(images[0], index + 1, name)
            if whole is not None:
                return whole
        return _drawn(page, images, index + 1, name)
    except pdfium.PdfiumError as trouble:
        raise UnreadablePhoto(f"{name} cannot be drawn; save the scan as JPEG, PNG or TIFF.") from trouble


def _covers(image: Any, area: float) -> bool:
    """Say whether an upright picture fills the page."""
    left, bottom, right, top = image.get_bounds()
    a, b, c, d, *_ = image.get_matrix().get()
    return bool(
        abs(b) + abs(c) < 1e-3 and a > 0 and d > 0 and (right - left) * (top - bottom) > _WHOLE_PAGE * area
    )


def _own_jpeg(image: Any, page: int, name: str) -> Picture | None:
    filters = image.get_filters()
    if not filters or filters[-1] != "DCTDecode":
        return None
    (found,) = encoded_pictures(bytes(image.get_data(decode_simple=True)), name)
    taken = Taken(kind="scan")
    photo = found.photo
    return Picture(
        type(photo)(
            photo.pixels, photo.decode, photo.matrix, photo.clip_level, device="", kind="scan", name=name
        ),
        taken,
        page,
    )


def _drawn(page: Any, images: list[Any], number: int, name: str) -> Picture:
    finest = max((_resolution(image) for image in images), default=_LEAST_DPI)
    dpi = float(np.clip(finest, _LEAST_DPI, _MOST_DPI))
    scale = dpi / 72.0
    rows, cols = round(page.get_height() * scale), round(page.get_width() * scale)
    refuse_too_many_pixels(rows, cols, name)
    bitmap = page.render(scale=scale, fill_color=(255, 255, 255, 255))
    buffer = np.ascontiguousarray(bitmap.to_numpy()[..., :3])
    taken = Taken(kind="scan", dots_per_inch=dpi)
    header = Header(rows, cols, "PDF", "RGB", b"", taken)
    return picture_of(buffer, header, name, number)


def _resolution(image: Any) -> float:
    """Return a picture's dots an inch as it lies on the page."""
    left, bottom, right, top = image.get_bounds()
    width, height = image.get_px_size()
    return float(max(width / max(right - left, 1e-6), height / max(top - bottom, 1e-6)) * 72.0)
