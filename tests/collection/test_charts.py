from __future__ import annotations

from datetime import UTC, datetime

import pytest
from sqlalchemy import Connection

from halfpan.collection import changes, charts, paints
from halfpan.core.chart.sheet import Box, Chart, Page, Part, Rect, Sheet, Stroke, Zone
from halfpan.core.paint.paint import Paint
from halfpan.errors import UnknownChart

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
RECT = Rect(10.0, 10.0, 20.0, 12.0)


def box(name: str, paint: str | None, mix: tuple[Part, ...] = ()) -> Box:
    return Box(name, paint, f"box {name}", (Stroke(RECT, "full"),), (Zone("masstone", RECT, "paper"),), mix)


CHART = Chart(
    "H7KQ2D",
    "swatch",
    Sheet(210.0, 297.0, "A4"),
    (
        Page(1, (), (box("10", "p1"), box("2", None))),
        Page(2, (), (box("1", None, (Part("p1", 3.0), Part("p2", 1.0))),)),
    ),
)


@pytest.fixture
def db(db: Connection) -> Connection:
    new = [Paint(id="", maker="Tidewater", range="", name=name) for name in ("Rose", "Sand")]
    paints.add_all(db, new, now=NOW)
    charts.add(db, CHART, now=NOW, title="Yellows")
    return db


def test_a_chart_comes_back_as_it_was_ruled_whatever_the_case_of_its_id(db: Connection) -> None:
    assert charts.find(db, " h7kq2d ").chart == CHART


def test_boxes_stand_in_the_order_they_were_ruled_with_their_mixes(db: Connection) -> None:
    states = charts.box_states(db, "H7KQ2D")
    assert [(one.page, one.box) for one in states] == [(1, "10"), (1, "2"), (2, "1")]
    assert states[2].mix == (Part("p1", 3.0), Part("p2", 1.0))


def test_an_assigned_box_is_for_its_paint_and_undo_frees_it(db: Connection) -> None:
    with changes.noted(db, "assigned", now=NOW):
        charts.assign(db, "H7KQ2D", 1, "2", paint="p2", label="Sand")
    assert charts.find(db, "H7KQ2D").chart.pages[0].boxes[1].paint == "p2"
    assert charts.with_paint(db, "p2") == [("H7KQ2D", 1, "2")]
    changes.undo(db, now=NOW)
    assert charts.find(db, "H7KQ2D").chart == CHART


def test_ticks_and_lines_written_at_the_table_are_kept(db: Connection) -> None:
    charts.note_box(db, "H7KQ2D", 1, "10", painted=True, note="too wet")
    (state, *_) = charts.box_states(db, "H7KQ2D")
    assert (state.painted, state.note) == (True, "too wet")
    (listed,) = charts.listed(db)
    assert (listed.pages, listed.paints, listed.painted, listed.reads) == (2, 1, 1, 0)


def test_a_chart_that_is_not_here_is_refused_with_those_that_are(db: Connection) -> None:
    with pytest.raises(UnknownChart, match="its charts are: H7KQ2D"):
        charts.find(db, "ZZZ")


def test_a_removed_chart_leaves_the_list(db: Connection) -> None:
    charts.put_away(db, "H7KQ2D", now=NOW)
    assert charts.listed(db) == []
    with pytest.raises(UnknownChart, match="none yet"):
        charts.find(db, "H7KQ2D")
