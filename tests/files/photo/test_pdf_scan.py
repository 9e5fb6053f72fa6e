"""Scans kept as PDF, written here by another library (reportlab)."""

from __future__ import annotations

import io

import cv2
import numpy as np
import pytest
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import open_pictures


def jpeg(seed):
    pixels = (np.random.default_rng(seed).random((300, 220, 3)) * 255).astype(np.uint8)
    out = io.BytesIO()
    Image.fromarray(cv2.GaussianBlur(pixels, (0, 0), 4)).save(out, "JPEG", quality=93)
    return out.getvalue()


def pdf(*pages, whole=True):
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(220 * 0.36, 300 * 0.36))
    for page in pages:
        share = 1.0 if whole else 0.5
        canvas.drawImage(ImageReader(io.BytesIO(page)), 0, 0, 220 * 0.36 * share, 300 * 0.36 * share)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def test_a_page_that_is_one_jpeg_gives_that_jpegs_own_pixels():
    pages = [jpeg(1), jpeg(2)]
    pictures = open_pictures(pdf(*pages), "scan.pdf")
    assert [p.page for p in pictures] == [1, 2]
    for picture, page in zip(pictures, pages, strict=True):
        theirs = cv2.imdecode(np.frombuffer(page, np.uint8), cv2.IMREAD_COLOR)[..., ::-1]
        assert np.array_equal(picture.photo.pixels, theirs)
        assert picture.photo.kind == "scan"
    assert pictures[1].photo.name == "scan.pdf, page 2"


def test_any_other_page_is_drawn_at_the_resolution_of_its_picture():
    (picture,) = open_pictures(pdf(jpeg(1), whole=False), "scan.pdf")
    assert picture.taken.dots_per_inch == pytest.approx(400, abs=1)
    assert picture.photo.pixels[20, -20].tolist() == [255, 255, 255]


def test_a_damaged_pdf_is_refused():
    with pytest.raises(UnreadablePhoto, match="PDF"):
        open_pictures(b"%PDF-1.7\nrubbish", "scan.pdf")
