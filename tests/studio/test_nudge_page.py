"""Boxes and corners moved by hand: what is read again, what is shown where, and taking it back."""

from __future__ import annotations

from datetime import datetime

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from halfpan.collection import page_reads, readings
from halfpan.errors import BadRequest, UnreadablePhoto
from halfpan.studio.cut_crops import crop_file
from halfpan.studio.measuring import ReadWish
from halfpan.studio.nudge_page import nudge_box, nudge_corners
from halfpan.studio.read_chart import read_chart
from halfpan.studio.see_review import ReviewSheet, see_review
from halfpan.studio.undo import undo

from .conftest import PaintedChart


@pytest.fixture
def read(painted: PaintedChart, now: datetime) -> PaintedChart:
    read_chart(painted.studio, [painted.scan], ReadWish(review=True, target="none"), now=now)
    return painted


def sheet_of(read: PaintedChart) -> ReviewSheet:
    (sheet,) = see_review(read.studio, read.chart.chart)[1]
    return sheet


def places(read: PaintedChart) -> dict[str, NDArray[np.float64]]:
    """Give the middle of each box in the photo, in pixels."""
    return {one.box.box: np.mean(one.outline, axis=0) for one in sheet_of(read).boxes}


def pixels_per_mm(read: PaintedChart) -> float:
    left, right = np.array(sheet_of(read).corners)[:2]
    return float(np.linalg.norm(right - left)) / read.chart.sheet.width_mm


def large_crop(read: PaintedChart, page_read: int, box: str) -> NDArray[np.float64]:
    found = cv2.imread(str(crop_file(read.studio, page_read, box, large=True)))
    assert found is not None
    return found.astype(np.float64)


def standing(read: PaintedChart, box: str) -> set[int | None]:
    """Give the page reads whose readings of a box are not set aside."""
    with read.studio.look() as db:
        held = readings.listed(db, chart=read.chart.chart)
    return {one.page_read for one in held if one.reading.box == box and one.reading.state != "set aside"}


def test_a_nudged_box_is_cut_where_it_was_nudged_to_and_the_others_stay(read, now):
    number = nudge_box(read.studio, 1, "2", (3.0, 1.5), now=now)
    before, after = large_crop(read, 1, "2"), large_crop(read, number, "2")
    (box,) = (one for one in sheet_of(read).boxes if one.box.box == "2")
    density = before.shape[1] / box.size_mm[0]
    x, y = round(3.0 * density), round(1.5 * density)
    overlap = before[y:, x:], after[: before.shape[0] - y, : before.shape[1] - x]
    assert np.abs(overlap[0] - overlap[1]).mean() < 3.0  # lossy pictures, and a part of a pixel
    assert np.abs(before - after).mean() > 9.0
    assert np.array_equal(large_crop(read, 1, "3"), large_crop(read, number, "3"))


def test_a_box_nudged_twice_lies_where_both_nudges_led_it(read, now):
    before = places(read)
    first = nudge_box(read.studio, 1, "2", (1.0, 0.0), now=now)
    nudge_box(read.studio, first, "2", (0.5, -2.0), now=now)
    moved = places(read)["2"] - before["2"]
    assert moved == pytest.approx(np.array([1.5, -2.0]) * pixels_per_mm(read), abs=1.0)
    assert places(read)["3"] == pytest.approx(before["3"], abs=0.1)


def test_nudging_a_second_box_sets_its_own_older_reading_aside(read, now):
    first = nudge_box(read.studio, 1, "2", (0.6, 0.0), now=now)
    second = nudge_box(read.studio, first, "3", (0.0, 0.6), now=now)
    assert {box: standing(read, box) for box in "123"} == {"1": {1}, "2": {first}, "3": {second}}
    with read.studio.look() as db:
        kept = page_reads.find(db, second)
    assert kept is not None
    assert kept.by_hand.moved == {"2": (0.6, 0.0), "3": (0.0, 0.6)}
    assert not kept.by_hand.corners


def test_a_nudge_taken_back_leaves_the_box_where_it_was(read, now):
    before = places(read)
    nudge_box(read.studio, 1, "2", (2.0, 0.0), now=now)
    undo(read.studio, now=now)
    assert standing(read, "2") == {1}
    assert sheet_of(read).page_read == 1
    assert places(read)["2"] == pytest.approx(before["2"], abs=0.1)


def test_corners_set_by_hand_are_remembered_with_the_boxes_that_were_moved(read, now):
    first = nudge_box(read.studio, 1, "2", (0.6, 0.0), now=now)
    corners = tuple((row + 4.0, col + 4.0) for col, row in sheet_of(read).corners)
    second = nudge_corners(read.studio, first, corners, now=now)
    with read.studio.look() as db:
        kept = page_reads.find(db, second)
    assert kept is not None
    assert (kept.by_hand.corners, dict(kept.by_hand.moved)) == (True, {"2": (0.6, 0.0)})
    assert sheet_of(read).corners == tuple((col, row) for row, col in corners)
    assert {box: standing(read, box) for box in "123"} == {box: {second} for box in "123"}


def test_the_same_photo_given_again_tells_of_a_nudged_box_where_it_lies_now(read, now):
    number = nudge_box(read.studio, 1, "2", (0.6, 0.0), now=now)
    again = read_chart(read.studio, [read.scan], ReadWish(target="none"), now=now)
    assert again.again
    assert {one.page_read for one in again.readings if one.reading.box == "2"} == {number}
    assert {one.page_read for one in again.readings if one.reading.box == "3"} == {1}


def test_a_box_cannot_be_moved_off_little_by_little(read, now):
    first = nudge_box(read.studio, 1, "2", (1.5, 0.0), now=now)
    with pytest.raises(BadRequest, match="15 mm at most"):
        nudge_box(read.studio, first, "2", (14.0, 0.0), now=now)
    assert standing(read, "2") == {first}


def test_a_box_that_cannot_be_read_in_its_new_place_stays_where_it_was(read, now):
    with pytest.raises(UnreadablePhoto, match="Box 2 cannot be read there"):
        nudge_box(read.studio, 1, "2", (0.0, 15.0), now=now)
    assert standing(read, "2") == {1}


@pytest.mark.parametrize(("box", "by_mm"), [("99", (1.0, 0.0)), ("2", (0.0, 0.0))])
def test_a_nudge_of_nothing_is_refused_and_keeps_nothing(read, now, box, by_mm):
    with pytest.raises(BadRequest, match="no box"):
        nudge_box(read.studio, 1, box, by_mm, now=now)
    assert standing(read, "2") == {1}
