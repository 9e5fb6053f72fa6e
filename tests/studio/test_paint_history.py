"""The history of one paint: everything that touched it, and nothing that did not."""

from __future__ import annotations

from datetime import datetime

import pytest

from halfpan.collection.stock import Item
from halfpan.core.paint.finding import Finding
from halfpan.errors import UnknownPaint
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.arrange_paints import move_paint
from halfpan.studio.correct_paint import correct_paint, remove_paint
from halfpan.studio.keep_finding import keep_finding
from halfpan.studio.lay_tin import fill_tin, move_pan, new_tin, take_out
from halfpan.studio.mix_log import log_mix
from halfpan.studio.paint_history import Done, paint_history
from halfpan.studio.place_pan import place_pan
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.see_wall import see_wall
from halfpan.studio.stock import add_item
from halfpan.studio.studio import Studio
from halfpan.studio.undo import undo

LIST = "Tidewater, Rose, PV19\nOld Quarry, Sand, PY43\nLarkspur Mill, Slate, PBk6\n"


@pytest.fixture
def three(studio: Studio, now: datetime) -> Studio:
    add_paints(studio, parse_table(LIST), now=now)
    return studio


def told(done: tuple[Done, ...]) -> list[str]:
    return [one.change.what for one in done]


def test_a_paint_tells_what_was_done_to_it_and_nothing_of_others(three: Studio, now: datetime) -> None:
    correct_paint(three, "p1", now=now, notes="Blooms.")
    correct_paint(three, "p2", now=now, notes="Grainy.")
    correct_paint(three, "p1", now=now, name="Dawn Rose", codes="PV19 PR122")
    add_item(three, "p1", Item(form="tube"), now=now)
    keep_finding(three, "p1", Finding("granulation", "smooth"), now=now)
    keep_finding(three, "p3", Finding("granulation", "granulating"), now=now)
    log_mix(three, "2 p1 + 1 p3", now=now)
    done = paint_history(three, "p1")
    assert told(done) == [
        "logged a mix: 2 p1 + 1 p3",
        "saw granulation of Dawn Rose by eye",
        "another tube of Dawn Rose",
        "corrected Rose",
        "corrected Rose",
        "added 3 paints from a list",
    ]
    assert dict(done[3].before) == {"name": "Rose", "codes": "PV19"}
    assert dict(done[4].before) == {"notes": ""}
    assert [one.added for one in done] == [False] * 5 + [True]


def test_charts_and_seats_of_a_paint_are_told_and_those_of_others_are_not(
    three: Studio, now: datetime, tmp_path
) -> None:
    rule_chart(three, ChartWish(paints="p1,p2"), tmp_path / "c.pdf", now=now, new_id=lambda: "C1")
    rule_chart(three, ChartWish(paints="p2,p3"), tmp_path / "d.pdf", now=now, new_id=lambda: "D1")
    new_tin(three, "Harbour", ["4h"], now=now)
    fill_tin(three, "Harbour", ["p1", "p2"], now=now)
    take_out(three, "Harbour", "p2", now=now)
    place_pan(three, "Harbour", "p3", "A2", now=now)
    move_pan(three, "Harbour", "A1", "A4", now=now)
    assert told(paint_history(three, "p1"))[:-1] == [
        "moved a pan in the tin Harbour from A1 to A4",
        "filled the tin Harbour",
        "ruled chart C1",
    ]
    assert told(paint_history(three, "p3"))[:-1] == [
        "put Slate into seat A2 of the tin Harbour",
        "ruled chart D1",
    ]
    assert told(paint_history(three, "p2"))[:2] == [
        "took Sand out of the tin Harbour",
        "filled the tin Harbour",
    ]


def test_what_is_offered_to_be_undone_can_be_undone_and_the_rest_cannot(three: Studio, now: datetime) -> None:
    correct_paint(three, "p1", now=now, notes="One.")
    correct_paint(three, "p1", now=now, tags=["sky"])
    correct_paint(three, "p1", now=now, notes="Two.")
    offered = [(one.undoable, one.change) for one in paint_history(three, "p1")]
    assert [yes for yes, _ in offered] == [True, True, False, True]
    undo(three, offered[1][1].id, now=now)
    newest, *rest = paint_history(three, "p1")
    assert newest.change.what == "undone: corrected Rose"
    assert newest.undoable
    assert [one.undoable for one in rest] == [True, False, False, True]


def test_moves_in_the_painters_own_order_do_not_fill_the_history_of_every_paint(
    three: Studio, now: datetime
) -> None:
    move_paint(three, see_wall(three), "p2", "p1", now=now)
    assert told(paint_history(three, "p1")) == ["added 3 paints from a list"]


def test_a_paint_that_is_not_here_has_no_history(three: Studio, now: datetime) -> None:
    remove_paint(three, "p1", now=now)
    with pytest.raises(UnknownPaint):
        paint_history(three, "p1")
