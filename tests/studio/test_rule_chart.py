from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import jsonschema
import pytest

from halfpan.collection import charts
from halfpan.core.chart.sheet import Part, chart_to_dict, dict_to_chart
from halfpan.errors import BadLayout, HalfpanError, UnknownPaint
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.rule_chart import ChartWish, letters_left_out, new_chart_id, rule_chart
from halfpan.studio.studio import Studio

SCHEMA = Path(__file__).parents[1] / "published" / "contract" / "chart.schema.json"
LIST = """maker,name,codes
Tidewater,Harbour Blue,PB29
Tidewater,Rose,PV19
Old Quarry,Sand,PY43
Old Quarry,Chalk,PW6
"""


@pytest.fixture
def stocked(studio: Studio, now: datetime) -> Studio:
    add_paints(studio, parse_table(LIST), now=now)
    return studio


def test_the_geometry_is_written_beside_the_pdf_and_kept(
    stocked: Studio, now: datetime, tmp_path: Path
) -> None:
    chart, geometry = rule_chart(stocked, ChartWish(), tmp_path / "chart.pdf", now=now)
    document = json.loads(geometry.read_text())
    jsonschema.validate(document, json.loads(SCHEMA.read_text()))
    assert chart_to_dict(dict_to_chart(document)) == document == chart_to_dict(chart)
    assert (tmp_path / "chart.pdf").read_bytes().startswith(b"%PDF")
    with stocked.look() as db:
        assert chart_to_dict(charts.find(db, chart.chart.lower()).chart) == document
        (listed,) = charts.listed(db)
    assert (listed.paints, listed.painted, listed.reads) == (4, 0, 0)


def test_paints_stand_in_the_proposed_order_or_in_the_one_given(
    stocked: Studio, now: datetime, tmp_path: Path
) -> None:
    def order(wish: ChartWish) -> list[str]:
        chart, _ = rule_chart(stocked, wish, tmp_path / "c.pdf", now=now)
        return [box.paint for page in chart.pages for box in page.boxes if box.paint]

    assert order(ChartWish()) == ["p2", "p1", "p3", "p4"]
    assert order(ChartWish(paints="p4, rose,p1", order="given")) == ["p4", "p2", "p1"]


def test_a_list_in_a_file_chooses_the_paints(stocked: Studio, now: datetime, tmp_path: Path) -> None:
    (tmp_path / "few.csv").write_text("maker,name\nOld Quarry,Sand\nTidewater,Rose\n")
    wish = ChartWish(paints=str(tmp_path / "few.csv"), order="given")
    chart, _ = rule_chart(stocked, wish, tmp_path / "c.pdf", now=now)
    assert [box.paint for box in chart.pages[0].boxes if box.paint] == ["p3", "p2"]


@pytest.mark.parametrize(
    ("wish", "refusal"), [(ChartWish(sheet="A9"), BadLayout), (ChartWish(paints="p1,p77"), UnknownPaint)]
)
def test_what_cannot_be_ruled_leaves_no_file_and_no_chart(
    stocked: Studio, now: datetime, tmp_path: Path, wish: ChartWish, refusal: type[Exception]
) -> None:
    (tmp_path / "out").mkdir()
    with pytest.raises(refusal):
        rule_chart(stocked, wish, tmp_path / "out" / "chart.pdf", now=now)
    assert list((tmp_path / "out").iterdir()) == []
    with stocked.look() as db:
        assert charts.listed(db) == []


def test_chart_ids_are_short_plain_and_their_own() -> None:
    ids = {new_chart_id() for _ in range(500)}
    assert len(ids) == 500
    assert all(len(one) == 6 and not set("01OIAEUY") & set(one) for one in ids)


def test_a_sheet_of_tests_has_every_test_of_every_paint(
    stocked: Studio, now: datetime, tmp_path: Path
) -> None:
    wish = ChartWish(kind="tests", paints="p1,p2", order="given", trials=("lifting", "repeats"))
    chart, _ = rule_chart(stocked, wish, tmp_path / "c.pdf", now=now)
    boxes = [box for page in chart.pages for box in page.boxes]
    assert chart.kind == "tests"
    assert [box.paint for box in boxes] == ["p1", "p1", "p2", "p2"]
    assert [box.label.rsplit(" · ", 1)[1] for box in boxes] == ["lifting", "repeats"] * 2


def test_a_sheet_of_mixes_has_the_mixes_named_and_boxes_for_ones_own(
    stocked: Studio, now: datetime, tmp_path: Path
) -> None:
    wish = ChartWish(kind="mixes", mixes=("3 Rose + 1 Harbour Blue", "Sand + 2 p4"))
    chart, _ = rule_chart(stocked, wish, tmp_path / "c.pdf", now=now)
    boxes = [box for page in chart.pages for box in page.boxes]
    assert [box.mix for box in boxes[:2]] == [
        (Part("p2", 3.0), Part("p1", 1.0)),
        (Part("p3", 1.0), Part("p4", 2.0)),
    ]
    assert len(boxes) > 2
    assert {box.mix for box in boxes[2:]} == {()}


def test_a_chart_for_the_wall_has_larger_boxes(stocked: Studio, now: datetime, tmp_path: Path) -> None:
    def width(scale: float) -> float:
        wish = ChartWish(sheet="A3", scale=scale)
        chart, _ = rule_chart(stocked, wish, tmp_path / "c.pdf", now=now)
        return chart.pages[0].boxes[0].strokes[0].rect.width

    assert width(1.6) > 1.3 * width(1.0)


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        (ChartWish(scale=40.0), "scale of 40"),
        (ChartWish(scale=float("nan")), "scale of nan"),
        (ChartWish(kind="tests", plan=(2, 2)), "swatch charts only"),
        (ChartWish(trials=("lifting",)), "kind “tests”"),
        (ChartWish(mixes=("Rose",)), "kind “mixes”"),
        (ChartWish(kind="mixes", mixes=("Rose + nobody",)), "nobody"),
    ],
)
def test_what_a_kind_of_sheet_cannot_be_is_refused(
    stocked: Studio, now: datetime, tmp_path: Path, wish: ChartWish, said: str
) -> None:
    with pytest.raises(HalfpanError, match=said):
        rule_chart(stocked, wish, tmp_path / "c.pdf", now=now)
    assert not (tmp_path / "c.pdf").exists()


def test_letters_the_print_has_no_shape_for_are_named(studio: Studio, now: datetime, tmp_path: Path) -> None:
    add_paints(studio, parse_table("name,codes\n群青,PB29\nRosé,PV19\n"), now=now)
    chart, _ = rule_chart(studio, ChartWish(), tmp_path / "c.pdf", now=now)
    assert letters_left_out(chart, "藍 blues") == ("藍", "群", "青")
