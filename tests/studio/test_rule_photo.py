from __future__ import annotations

from datetime import datetime
from pathlib import Path

import cv2
import numpy as np
import pytest

import halfpan
from halfpan.collection import charts, readings
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import srgb_to_lab
from halfpan.errors import BadRequest, UnreadablePhoto, UnreadableTable
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.assign_box import assign_box
from halfpan.studio.rule_photo import GridWish, rule_photo
from halfpan.studio.studio import Studio

COLOURS = np.array(
    [[[200, 40, 40], [220, 150, 30], [60, 120, 50]], [[40, 60, 140], [120, 80, 50], [150, 60, 130]]]
)
PAPER = 243
GRID = GridWish(corners=((100, 80), (400, 80), (400, 280), (100, 280)), rows=2, columns=3, target="none")
LIST = "name,codes\nRed,PR254\nOrange,PO62\nGreen,PG7\nBlue,PB29\nBrown,PBr7\nViolet,PV19\n"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """Paint six boxes in rows of three on bright paper."""
    picture = np.full((360, 500, 3), PAPER, dtype=np.uint8)
    for row in range(2):
        for column in range(3):
            top, left = 80 + 100 * row, 100 + 100 * column
            picture[top + 6 : top + 94, left + 6 : left + 94] = COLOURS[row, column]
    grain = np.random.default_rng(1).normal(0, 1.5, picture.shape)
    noisy = np.clip(picture + grain, 0, 255).astype(np.uint8)
    cv2.imwrite(str(tmp_path / "old.png"), noisy[..., ::-1])
    return tmp_path / "old.png"


def test_boxes_are_read_under_their_paints_in_reading_order(
    studio: Studio, sheet: Path, now: datetime
) -> None:
    add_paints(studio, parse_table(LIST), now=now)
    read = rule_photo(studio, sheet, GridWish(**{**_fields(GRID), "paints": "all"}), now=now)
    kept = {one.reading.box: one.reading for one in read.readings}
    assert {box: one.paint for box, one in kept.items()} == {
        "A1": "p1", "A2": "p2", "A3": "p3", "B1": "p4", "B2": "p5", "B3": "p6",
    }  # fmt: skip
    # The paper is taken as L* 95.5, a* 0, b* 1; the painted sheet's own white is sRGB 243.
    for box, one in kept.items():
        shown = COLOURS["AB".index(box[0]), int(box[1]) - 1] / 255
        assert float(delta_e_2000(np.array(one.lab), srgb_to_lab(shown))) < 2.0


def _fields(wish: GridWish) -> dict[str, object]:
    return {name: getattr(wish, name) for name in GridWish.__dataclass_fields__}


def test_a_ruled_chart_is_kept_and_its_boxes_can_be_assigned_later(
    studio: Studio, sheet: Path, now: datetime
) -> None:
    read = rule_photo(studio, sheet, GRID, now=now)
    assert {one.reading.state for one in read.readings} == {"to review"}
    add_paints(studio, parse_table(LIST), now=now)
    assign_box(studio, read.chart, "B1", "Blue", now=now)
    with studio.look() as db:
        assert charts.find(db, read.chart).chart.kind == "ruled"
        assert [one.reading.box for one in readings.listed(db, paint="p4")] == ["B1"]


def test_the_same_grid_in_the_same_photo_adds_nothing(studio: Studio, sheet: Path, now: datetime) -> None:
    first = rule_photo(studio, sheet, GRID, now=now)
    second = rule_photo(studio, sheet, GRID, now=now)
    assert second.again
    assert second.readings == first.readings


def test_boxes_can_be_left_out(studio: Studio, sheet: Path, now: datetime) -> None:
    read = rule_photo(studio, sheet, GridWish(**{**_fields(GRID), "skip": ("A2", "b3")}), now=now)
    assert {one.reading.box for one in read.readings} == {"A1", "A3", "B1", "B2"}
    with pytest.raises(BadRequest, match="no box Z9"):
        rule_photo(studio, sheet, GridWish(**{**_fields(GRID), "skip": ("Z9",)}), now=now)


def test_a_correction_file_moves_skips_and_joins_boxes(
    studio: Studio, sheet: Path, now: datetime, tmp_path: Path
) -> None:
    file = tmp_path / "right.json"
    file.write_text('{"a2": {"skip": true}, "B1": {"move": [1.0, 0.0]}}')
    read = rule_photo(studio, sheet, GridWish(**{**_fields(GRID), "corrections": file}), now=now)
    seen = {one.reading.box: np.array(one.reading.lab) for one in read.readings}
    assert set(seen) == {"A1", "A3", "B1", "B2", "B3"}
    assert float(delta_e_2000(seen["B1"], seen["B2"])) < 2.0  # B1 now lies where B2 is


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("A1 skip", "not JSON"),
        ("[1]", "does not list boxes"),
        ('{"Z9": {"skip": true}}', "Z9"),
        ('{"A1": {"turn": 3}}', "turn"),
    ],
)
def test_a_correction_file_that_cannot_be_meant_is_refused(
    studio: Studio, sheet: Path, now: datetime, text: str, said: str
) -> None:
    file = sheet.with_name("right.json")
    file.write_text(text)
    with pytest.raises((BadRequest, UnreadableTable), match=said):
        rule_photo(studio, sheet, GridWish(**{**_fields(GRID), "corrections": file}), now=now)


def test_more_paints_than_boxes_are_refused_and_nothing_is_kept(
    studio: Studio, sheet: Path, now: datetime
) -> None:
    add_paints(studio, parse_table(LIST + "White,PW6\n"), now=now)
    with pytest.raises(UnreadablePhoto, match="7 paints for 6 boxes"):
        rule_photo(studio, sheet, GridWish(**{**_fields(GRID), "paints": "all"}), now=now)
    with studio.look() as db:
        assert charts.listed(db) == []
    assert list(studio.photos.iterdir()) == []


def test_a_real_target_read_as_a_chart_foretells_its_own_boxes(
    studio: Studio, shared_data: Path, now: datetime
) -> None:
    # Photograph and corners: ../shared/data/SOURCES.md; colours: the published ones, data/SOURCES.md.
    corners = ((554.0, 480.0), (561.0, 219.0), (734.0, 224.0), (736.0, 485.0))
    colours = Path(halfpan.__file__).parent / "data" / "target_24.csv"
    wish = GridWish(corners=corners, rows=4, columns=6, target=str(colours))
    read = rule_photo(studio, shared_data / "target_photos" / "photo_passport_warm.png", wish, now=now)
    assert len(read.readings) == 24
    assert read.light.tier == "target"
    assert read.light.check_delta_e00 is not None
    assert read.light.check_delta_e00 <= 2.1
