import cv2
import numpy as np
import pytest

from halfpan.core.chart.mark import code_ink, code_text, eight_marks, mark_ink
from halfpan.core.chart.sheet import Sheet


def drawn(fills, width, height, scale):
    picture = np.full((round(height * scale), round(width * scale)), 255, np.uint8)
    for fill in fills:
        for r in fill.rects:
            rows = slice(round(r.y * scale), round(r.bottom * scale))
            picture[rows, round(r.x * scale) : round(r.right * scale)] = 255 if fill.white else 0
    return picture


@pytest.mark.parametrize("sheet", [Sheet(210, 297), Sheet(297, 210), Sheet(148, 210), Sheet(300, 300)])
def test_eight_different_marks_are_found_by_their_numbers(sheet):
    marks = eight_marks(sheet, margin=8, side=6, lines=[40, 90, 140, 190])
    picture = drawn([f for m in marks for f in mark_ink(m)], sheet.width_mm, sheet.height_mm, 8)
    words = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, numbers, _ = cv2.aruco.ArucoDetector(words).detectMarkers(picture)
    assert sorted(np.ravel(numbers)) == list(range(8))
    for quad, number in zip(corners, np.ravel(numbers), strict=True):
        expected = np.array(marks[number].corners) * 8
        assert np.abs(quad.reshape(4, 2) - expected).max() <= 1.5


def test_the_first_four_marks_stand_in_the_corners_clockwise_from_the_top_left():
    marks = eight_marks(Sheet(210, 297), margin=8, side=7, lines=[])
    centres = [np.mean(m.corners, axis=0) for m in marks[:4]]
    assert [(x < 105, y < 148.5) for x, y in centres] == [
        (True, True), (False, True), (False, False), (True, False),
    ]  # fmt: skip


def test_side_marks_stand_level_with_a_black_line_where_one_is_near():
    marks = eight_marks(Sheet(210, 297), margin=8, side=7, lines=[110.0, 190.0])
    assert sorted({round(np.mean(m.corners, axis=0)[1], 6) for m in marks[4:]}) == [110.0, 190.0]


def test_the_code_is_read_back_word_for_word():
    text = code_text("K7Q2M", 12)
    picture = drawn([code_ink(text, 4, 4, 15)], 23, 23, 20)
    read, _, _ = cv2.QRCodeDetectorAruco().detectAndDecode(picture)
    assert read == "HALFPAN K7Q2M 12"
