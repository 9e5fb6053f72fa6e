"""Marks and code of a printed page, found whichever way it lies."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from halfpan.core.chart.sheet import Sheet
from halfpan.core.measuring.locate import MARK_SIDE, QUICK, _by_mark, _marks, locate
from halfpan.core.measuring.photo import Photo
from halfpan.demo.printed import rule_studio_chart
from halfpan.demo.studio_paints import studio_paints
from halfpan.files.pdf import chart_pdf, page_picture

from .small_sheet import SRGB

SHEETS = (Sheet(210, 297), Sheet(297, 210), Sheet(215.9, 279.4), Sheet(148, 210), Sheet(381, 560))


def printed(sheet, dpi=150):
    ruled = rule_studio_chart(studio_paints()[:6], sheet=sheet, chart_id="TARN01")
    grey = np.asarray(page_picture(chart_pdf(ruled), 1, dpi))
    return ruled.chart.pages[0], np.repeat(grey[..., None], 3, axis=-1)


@pytest.fixture(scope="module")
def a4():
    return printed(SHEETS[0])


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: f"{s.width_mm:g}x{s.height_mm:g}")
def test_the_code_is_read_beside_its_mark_on_sheets_of_every_usual_size(sheet):
    """Read by OpenCV's own detector; the code is printed by segno after ISO/IEC 18004."""
    page, picture = printed(sheet)
    mark = next(np.array(m.corners) for m in page.marks if m.id == 1)[:, ::-1] * 150 / 25.4 - 0.5
    (piece,) = _by_mark(Photo(picture, SRGB), mark)
    assert max(piece.shape) < 4 * MARK_SIDE
    _, texts, *_ = cv2.QRCodeDetectorAruco().detectAndDecodeMulti(piece)
    assert texts == ("HALFPAN TARN01 1",)


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_marks_and_code_are_found_whichever_way_the_sheet_lies(a4, turn):
    page, picture = a4
    found = locate(Photo(np.ascontiguousarray(np.rot90(picture, turn)), SRGB))
    assert (found.chart, found.page) == ("TARN01", 1)
    assert set(found.marks) == {m.id for m in page.marks}


def test_a_mark_at_the_rim_of_the_picture_has_nothing_beside_it(a4):
    _, picture = a4
    rim = np.array([(10.0, 0.0), (10.0, 40.0), (50.0, 40.0), (50.0, 0.0)])
    assert list(_by_mark(Photo(picture, SRGB), rim)) == []


def test_a_page_whose_upper_right_is_covered_is_found_without_its_code(a4):
    _, picture = a4
    covered = picture.copy()
    covered[: len(covered) // 5, covered.shape[1] // 2 :] = 200
    found = locate(Photo(covered, SRGB))
    assert (found.chart, found.page) == (None, None)
    assert 1 not in found.marks
    assert len(found.marks) == 7


def test_the_small_soft_marks_of_a_page_far_away_are_found_by_a_thorough_look(a4):
    _, picture = a4
    far = cv2.GaussianBlur(cv2.resize(picture, (495, 700), interpolation=cv2.INTER_AREA), (0, 0), 0.6)
    assert len(_marks(far[..., 0], 1.0, QUICK)) < 8
    assert len(locate(Photo(far, SRGB), code=False).marks) == 8
