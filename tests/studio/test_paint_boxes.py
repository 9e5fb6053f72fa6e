"""A chart painted box by box: what is next, what is ticked, and what comes back from a phone."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from halfpan.errors import BadRequest, UnknownChart
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.assign_box import assign_box
from halfpan.studio.paint_boxes import lay_out, take_ticks, tick_box
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.studio import Studio
from halfpan.studio.undo import undo

LIST = """maker,name,codes,lightfastness,health
Tidewater,Harbour Blue,PB29,I,
Tidewater,Dawn,PY35,I,Contains cadmium
Old Quarry,Sand,PY43,,
"""


@pytest.fixture
def chart(studio: Studio, now: datetime, tmp_path: Path) -> str:
    add_paints(studio, parse_table(LIST), now=now)
    ruled, _ = rule_chart(studio, ChartWish(order="given"), tmp_path / "c.pdf", now=now)
    return ruled.chart


def test_painting_goes_on_where_it_was_left_and_comes_back_to_boxes_passed_over(
    studio: Studio, chart: str, now: datetime
) -> None:
    seen = lay_out(studio, chart.lower())
    assert [step.pours[0].name for step in seen.steps] == ["Harbour Blue", "Dawn", "Sand"]
    assert seen.next == seen.steps[0]
    tick_box(studio, chart, 1, "2", painted=True, note="  two \n loads ", now=now)
    tick_box(studio, chart, 1, "3", painted=True, note="", now=now)
    later = lay_out(studio, chart)
    assert (later.painted, later.steps[1].note) == (2, "two loads")
    assert later.after(later.steps[2]) == later.next == later.steps[0]
    done = tick_box(studio, chart, 1, "1", painted=True, note="", now=now)
    assert done.next is None


def test_label_and_literature_are_told_apart_and_cautions_carry_their_witness(
    studio: Studio, chart: str
) -> None:
    _, dawn, sand = lay_out(studio, chart).steps
    assert {(one.about, one.witness) for one in dawn.said} >= {("light", "label"), ("light", "literature")}
    assert ("label", "“Contains cadmium”") in {(one.witness, one.text) for one in dawn.cautions}
    assert "literature" in {one.witness for one in dawn.cautions}
    assert "label" not in {one.witness for one in sand.said}


def test_a_tick_can_be_taken_back_by_undo(studio: Studio, chart: str, now: datetime) -> None:
    tick_box(studio, chart, 1, "1", painted=True, note="", now=now)
    assert "painted box 1" in undo(studio, now=now).what
    assert lay_out(studio, chart).painted == 0


def test_a_spare_box_joins_the_work_once_it_is_for_a_paint(studio: Studio, chart: str, now: datetime) -> None:
    before = len(lay_out(studio, chart).steps)
    assign_box(studio, chart, "4", "Sand", now=now)
    assert lay_out(studio, chart).steps[before].pours[0].name == "Sand"


def test_boxes_of_mixes_tell_parts_and_boxes_of_tests_tell_the_test(
    studio: Studio, chart: str, now: datetime, tmp_path: Path
) -> None:
    wish = ChartWish(kind="mixes", mixes=("3 Dawn + 1 Sand",))
    mixes, _ = rule_chart(studio, wish, tmp_path / "m.pdf", now=now)
    (mix,) = lay_out(studio, mixes.chart).steps
    assert [(pour.name, pour.parts) for pour in mix.pours] == [("Dawn", 3.0), ("Sand", 1.0)]
    assert ("Dawn", "label") in {(one.about, one.witness) for one in mix.cautions}
    tests, _ = rule_chart(studio, ChartWish(kind="tests", paints="Sand"), tmp_path / "t.pdf", now=now)
    shown = [step.test for step in lay_out(studio, tests.chart).steps]
    assert shown == ["lifting", "second coat", "water ladder", "repeats"]


def test_notes_brought_back_add_ticks_and_lines_and_take_none_away(
    studio: Studio, chart: str, now: datetime
) -> None:
    tick_box(studio, chart, 1, "1", painted=True, note="kept", now=now)
    text = f"halfpan boxes {chart}\n1/1\t-\n1/2\tpainted\tgrainy, and\tslow\r\n1/3\t-\tleft out\n"
    assert take_ticks(studio, chart, text, now=now) == 2
    assert [(step.painted, step.note) for step in lay_out(studio, chart).steps] == [
        (True, "kept"),
        (True, "grainy, and slow"),
        (False, "left out"),
    ]
    assert take_ticks(studio, chart, text, now=now) == 0


@pytest.mark.parametrize(
    "text",
    ["", "1/1\tpainted", "halfpan boxes OTHER1\n1/1\tpainted", "{head}\n1/9\tpainted", "{head}\n1/1\tyes"],
)
def test_notes_of_something_else_are_refused_whole(
    studio: Studio, chart: str, now: datetime, text: str
) -> None:
    with pytest.raises(BadRequest):
        take_ticks(studio, chart, text.format(head=f"halfpan boxes {chart}\n1/2\tpainted"), now=now)
    assert lay_out(studio, chart).painted == 0


def test_boxes_and_charts_that_are_not_there_are_refused(studio: Studio, chart: str, now: datetime) -> None:
    with pytest.raises(BadRequest, match="nothing in box 77"):
        tick_box(studio, chart, 1, "77", painted=True, note="", now=now)
    with pytest.raises(UnknownChart):
        lay_out(studio, "ZZZ")
