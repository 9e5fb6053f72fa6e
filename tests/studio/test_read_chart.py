from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from sqlalchemy import func, select

from halfpan.collection import changes, charts, photos, readings, swatches
from halfpan.collection.tables import metadata
from halfpan.core.colour.difference import delta_e_2000
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.scanner import scan
from halfpan.errors import UnknownChart, UnreadablePhoto
from halfpan.files.originals import original
from halfpan.studio.assign_box import assign_box
from halfpan.studio.measuring import ReadWish
from halfpan.studio.read_chart import read_chart
from halfpan.studio.read_document import read_to_dict
from halfpan.studio.studio import Studio, open_studio

from .conftest import DPI, PaintedChart

SCHEMA = Path(__file__).parents[1] / "published" / "contract" / "read.schema.json"


def row_counts(studio: Studio) -> dict[str, int]:
    with studio.look() as db:
        return {name: db.execute(select(func.count()).select_from(table)).scalar_one()
                for name, table in metadata.tables.items()}  # fmt: skip


def test_every_painted_box_comes_back_under_its_paint_and_near_the_truth(
    painted: PaintedChart, now: datetime
) -> None:
    read = read_chart(painted.studio, [painted.scan], now=now)
    assert {one.reading.paint for one in read.readings if one.reading.zone == "masstone"} == set(
        painted.films
    )
    true = {box.box: painted.truth.zone(box.box, "masstone").lab for box in painted.truth.boxes if box.film}
    for one in read.readings:
        if one.reading.zone == "masstone":
            lab = np.array(one.reading.lab)
            nearest = min(true, key=lambda box: float(delta_e_2000(lab, true[box])))
            assert nearest == one.reading.box
    assert {one.reading.state for one in read.readings} <= {"accepted", "to review"}
    assert read.light.tier == "paper"


def test_the_document_keeps_to_the_contract(painted: PaintedChart, now: datetime) -> None:
    document = read_to_dict(read_chart(painted.studio, [painted.scan], now=now))
    jsonschema.validate(json.loads(json.dumps(document)), json.loads(SCHEMA.read_text()))
    assert {one["paint"] for one in document["paints"]} == set(painted.films)
    assert document["chart"] == painted.chart.chart


def test_the_original_is_kept_unaltered(painted: PaintedChart, now: datetime) -> None:
    (sha256,) = read_chart(painted.studio, [painted.scan], now=now).photos
    assert original(painted.studio.photos, sha256) == painted.scan.read_bytes()
    with painted.studio.look() as db:
        assert [one.sha256 for one in photos.listed(db)] == [sha256]


def test_the_same_photo_twice_adds_nothing_and_answers_the_same(painted: PaintedChart, now: datetime) -> None:
    first = read_chart(painted.studio, [painted.scan], now=now)
    before = row_counts(painted.studio)
    second = read_chart(painted.studio, [painted.scan, painted.scan], now=now + timedelta(days=1))
    assert row_counts(painted.studio) == before
    assert replace(second, again=False) == first
    assert second.again


def test_readings_replace_nothing(painted: PaintedChart, now: datetime) -> None:
    first = read_chart(painted.studio, [painted.scan], now=now)
    read_chart(painted.studio, [painted.scan], ReadWish(again=True), now=now)
    with painted.studio.look() as db:
        assert len(readings.listed(db)) == 2 * len(first.readings)


def test_with_review_nothing_counts_until_it_is_accepted(painted: PaintedChart, now: datetime) -> None:
    read = read_chart(painted.studio, [painted.scan], ReadWish(review=True), now=now)
    assert {one.reading.state for one in read.readings} == {"to review"}
    with painted.studio.look() as db:
        assert readings.counting(db) == {}
        assert swatches.counting(db) == {}


def test_a_photo_without_a_chart_is_refused_and_nothing_is_kept(
    painted: PaintedChart, now: datetime, tmp_path: Path
) -> None:
    before = row_counts(painted.studio)
    (tmp_path / "broken.jpg").write_bytes(painted.scan.read_bytes()[:20_000])
    for photos_given in ([tmp_path / "broken.jpg"], [painted.scan, tmp_path / "absent.jpg"]):
        with pytest.raises(UnreadablePhoto):
            read_chart(painted.studio, photos_given, now=now)
    assert row_counts(painted.studio) == before
    assert list(painted.studio.photos.iterdir()) == []


def test_the_wrong_chart_is_refused(painted: PaintedChart, now: datetime) -> None:
    with pytest.raises(UnknownChart, match=f"shows chart {painted.chart.chart}, not ZZZ222"):
        read_chart(painted.studio, [painted.scan], ReadWish(chart="ZZZ222"), now=now)


def test_a_chart_of_another_studio_is_refused(painted: PaintedChart, now: datetime, tmp_path: Path) -> None:
    other = open_studio(tmp_path / "other")
    with pytest.raises(UnknownChart, match=painted.chart.chart):
        read_chart(other, [painted.scan], now=now)
    other.close()


def test_undo_sets_the_readings_aside_and_keeps_them(painted: PaintedChart, now: datetime) -> None:
    count = len(read_chart(painted.studio, [painted.scan], now=now).readings)
    with painted.studio.transaction() as db:
        changes.undo(db, now=now)
        aside = readings.listed(db, state="set aside")
        assert (len(aside), {one.reason for one in aside}) == (count, {"undone"})
        assert swatches.counting(db) == {}
    again = read_chart(painted.studio, [painted.scan], now=now)
    assert not again.again
    assert len(again.readings) == count


def test_a_paint_added_later_gets_a_spare_box_and_what_was_read_there(
    painted: PaintedChart, now: datetime, tmp_path: Path
) -> None:
    spare = next(box.box for box in painted.chart.pages[0].boxes if box.paint is None)
    film = painted.films["p1"]
    sheet, _ = paint_sheet(
        painted.chart, painted.chart.pages[0], painted.printed, painted.films,
        rng=np.random.default_rng(3), dpi=DPI, paper=paper_of(), box_films={spare: film},
    )  # fmt: skip
    (tmp_path / "later.jpg").write_bytes(scan(sheet, rng=np.random.default_rng(4)).file)
    read_chart(painted.studio, [painted.scan], now=now)
    later = read_chart(painted.studio, [tmp_path / "later.jpg"], ReadWish(new_boxes=True), now=now)
    assert {one.reading.box for one in later.readings} == {spare}
    assert {one.reading.state for one in later.readings} == {"to review"}
    chart = assign_box(painted.studio, painted.chart.chart, spare, "p2", now=now)
    assert next(box for box in chart.pages[0].boxes if box.box == spare).paint == "p2"
    with painted.studio.look() as db:
        held = [one for one in readings.listed(db, paint="p2") if one.reading.box == spare]
        assert len(held) == len(later.readings)
        assert charts.with_paint(db, "p2") == [(chart.chart, 1, box.box) for box in chart.pages[0].boxes
                                               if box.paint == "p2"]  # fmt: skip
