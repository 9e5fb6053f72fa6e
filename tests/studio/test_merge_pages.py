"""Two photos of one page, each under glare on one half: one reading counts for each box, all are kept."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import cv2
import numpy as np
import pytest

from halfpan.collection import changes, readings, swatches
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import decode_srgb, encode_srgb
from halfpan.studio.keep_page import BETTER_ELSEWHERE
from halfpan.studio.read_chart import ChartRead, read_chart

from .conftest import PaintedChart


def glaring(painted: PaintedChart, folder: Path, side: str) -> Path:
    """The scan with light lying over one half of its painted boxes."""
    pixels = cv2.imread(str(painted.scan))
    boxes = [box for box in painted.chart.pages[0].boxes if box.paint]
    places = np.array([(b.zone("masstone").rect.x, b.zone("masstone").rect.y) for b in boxes])
    axis = int(np.ptp(places[:, 1]) > np.ptp(places[:, 0]))
    order = places[:, axis]
    ends = {"near": order.min(), "far": order.max()}
    sheet = painted.chart.sheet
    mm = np.arange(pixels.shape[1 - axis]) / pixels.shape[1 - axis] * (sheet.width_mm, sheet.height_mm)[axis]
    veil = 0.4 * np.exp(-0.5 * ((mm - ends[side] - 6.0) / 9.0) ** 2)
    veil = veil[:, None, None] if axis else veil[None, :, None]
    light = decode_srgb(pixels / 255.0)
    lit = np.rint(encode_srgb(np.clip(light + veil * (1 - light), 0, 1)) * 255).astype(np.uint8)
    path = folder / f"{side}.png"
    cv2.imwrite(str(path), lit)
    return path


@pytest.fixture
def pair(painted: PaintedChart, tmp_path: Path) -> list[Path]:
    return [glaring(painted, tmp_path, side) for side in ("near", "far")]


def masstones(read: ChartRead) -> dict[str, np.ndarray]:
    return {
        one.reading.box: np.array(one.reading.lab) for one in read.readings if one.reading.zone == "masstone"
    }


def test_each_box_is_read_from_the_photo_without_glare_over_it(
    painted: PaintedChart, pair: list[Path], now: datetime
) -> None:
    alone = [read_chart(painted.studio, [path], now=now) for path in pair]
    with painted.studio.transaction() as db:
        changes.undo(db, now=now)
        changes.undo(db, now=now)
    true = {box.box: painted.truth.zone(box.box, "masstone").lab for box in painted.truth.boxes if box.film}
    assert all(set(true) - set(masstones(one)) for one in alone)
    together = read_chart(painted.studio, pair, now=now)
    assert not {one.box for one in together.unread} & set(true)
    assert len(together.photos) == 2
    found = masstones(together)
    assert max(float(delta_e_2000(found[box], lab)) for box, lab in true.items()) < 4


def test_one_reading_a_zone_counts_and_those_of_both_photos_are_kept(
    painted: PaintedChart, pair: list[Path], now: datetime
) -> None:
    read = read_chart(painted.studio, pair, now=now)
    with painted.studio.look() as db:
        kept = readings.listed(db)
        told = swatches.listed(db)
    assert len({one.page_read for one in kept}) == 2
    counted = [one for one in kept if one.reading.state != "set aside"]
    assert len(counted) == len({(one.reading.box, one.reading.zone) for one in counted})
    assert {one.id for one in counted} == {one.id for one in read.readings}
    aside = [one for one in kept if one.reading.state == "set aside"]
    assert aside
    assert {one.reason for one in aside} == {BETTER_ELSEWHERE}
    assert sum(one.state != "set aside" for one in told) == len(masstones(read))


def test_the_same_two_photos_again_answer_the_same(
    painted: PaintedChart, pair: list[Path], now: datetime
) -> None:
    first = read_chart(painted.studio, pair, now=now)
    second = read_chart(painted.studio, pair, now=now)
    assert second.again
    assert masstones(first).keys() == masstones(second).keys()
    assert [one.id for one in first.readings] == [one.id for one in second.readings]
