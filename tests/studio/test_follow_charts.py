"""What has come or changed since a chart was printed, and how little brings it up to date."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from halfpan.collection.light_tests import LightTest
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.assign_box import assign_box
from halfpan.studio.correct_paint import correct_paint, remove_paint
from halfpan.studio.follow_charts import ChartFollowed, follow_charts
from halfpan.studio.follow_tin import rule_tin_chart
from halfpan.studio.hang_strip import hang_strip
from halfpan.studio.lay_tin import fill_tin, move_pan, new_tin
from halfpan.studio.paint_boxes import tick_box
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.studio import Studio

BLUES = (
    "Tidewater, Ultramarine, PB29\nOld Quarry, Cobalt Blue, PB28\n"
    "Larkspur Mill, Phthalo Blue, PB15:3\nTidewater, Cerulean, PB35\n"
)
LATER = timedelta(days=9)


@pytest.fixture
def blues(studio: Studio, now: datetime, tmp_path) -> Studio:
    add_paints(studio, parse_table(BLUES), now=now)
    rule_chart(
        studio, ChartWish(title="Blues", spare=1), tmp_path / "b.pdf", now=now, new_id=lambda: "BLUES1"
    )
    return studio


def followed(studio: Studio, chart: str) -> ChartFollowed:
    return next(one for one in follow_charts(studio) if one.state.chart == chart)


def names(one: ChartFollowed) -> list[str]:
    return [paint.name for paint in one.newcomers]


def test_a_chart_just_printed_is_up_to_date(blues: Studio, now: datetime) -> None:
    one = followed(blues, "BLUES1")
    assert (one.step, one.out_of_date, one.repaint) == ("printed", False, ())
    assert "5" in one.spare
    tick_box(blues, "BLUES1", 1, "1", painted=True, note="", now=now)
    assert followed(blues, "BLUES1").step == "painted"


def test_a_paint_that_came_since_belongs_beside_its_kin_and_takes_the_spare_box(
    blues: Studio, now: datetime
) -> None:
    add_paints(blues, parse_table("Old Quarry, Smalt, PB32"), now=now + LATER)
    one = followed(blues, "BLUES1")
    assert names(one) == ["Smalt"]
    assert one.repaint == one.spare[:1] == ("5",)
    assert one.elsewhere == ()
    assert 1 <= one.in_place <= 5


def test_what_finds_no_spare_box_needs_a_sheet_of_its_own(blues: Studio, now: datetime, tmp_path) -> None:
    wish = ChartWish(title="Four", plan=(2, 2))
    rule_chart(blues, wish, tmp_path / "f.pdf", now=now, new_id=lambda: "FOUR11")
    more = "Old Quarry, Smalt, PB32\nOld Quarry, Indigo Blue, PB66\n"
    add_paints(blues, parse_table(more), now=now + LATER)
    roomy, full = followed(blues, "BLUES1"), followed(blues, "FOUR11")
    assert sorted(names(roomy)) == sorted(names(full)) == ["Indigo Blue", "Smalt"]
    assert (len(roomy.repaint), roomy.elsewhere) == (2, ())
    assert (full.repaint, len(full.elsewhere)) == ((), 2)


def test_a_paint_that_was_there_before_or_stands_on_a_chart_is_no_newcomer(
    blues: Studio, now: datetime, tmp_path
) -> None:
    add_paints(blues, parse_table("Old Quarry, Smalt, PB32"), now=now + LATER)
    wish = ChartWish(paints="p5", title="One")
    rule_chart(blues, wish, tmp_path / "s.pdf", now=now + 2 * LATER, new_id=lambda: "SMALT1")
    assert names(followed(blues, "BLUES1")) == []
    assert names(followed(blues, "SMALT1")) == []


def test_a_paint_of_another_family_is_nothing_to_a_chart_of_blues(
    blues: Studio, now: datetime, tmp_path
) -> None:
    reds = (
        "Tidewater, Scarlet, PR188\nTidewater, Brick, PR101\nTidewater, Lemon, PY3\nOld Quarry, Leaf, PG36\n"
    )
    add_paints(blues, parse_table(reds), now=now)
    wish = ChartWish(paints="p5,p6,p7,p8", title="Rest")
    rule_chart(blues, wish, tmp_path / "r.pdf", now=now, new_id=lambda: "REST11")
    add_paints(blues, parse_table("Old Quarry, Naphthol Red, PR170"), now=now + LATER)
    assert names(followed(blues, "BLUES1")) == []
    assert names(followed(blues, "REST11")) == ["Naphthol Red"]


def test_a_corrected_label_and_a_paint_put_away_are_told_and_need_no_brush(
    blues: Studio, now: datetime
) -> None:
    correct_paint(blues, "p1", now=now, name="French Ultramarine")
    correct_paint(blues, "p2", now=now, notes="A note is on no label.")
    remove_paint(blues, "p3", now=now)
    one = followed(blues, "BLUES1")
    told = {
        (change.printed.split(" · ")[0], change.now.name if change.now else None) for change in one.changed
    }
    assert told == {("Ultramarine", "French Ultramarine"), ("Phthalo Blue", None)}
    assert one.out_of_date
    assert one.repaint == ()


def test_a_spare_box_that_was_given_to_a_paint_is_spare_no_more(blues: Studio, now: datetime) -> None:
    spare, *others = followed(blues, "BLUES1").spare
    add_paints(blues, parse_table("Old Quarry, Smalt, PB32\n"), now=now + LATER)
    assign_box(blues, "BLUES1", spare, "p5", now=now + LATER)
    one = followed(blues, "BLUES1")
    assert (one.spare, one.newcomers, one.changed) == (tuple(others), (), ())


def test_a_chart_that_follows_a_tin_asks_for_the_boxes_whose_seats_were_filled_anew(
    blues: Studio, now: datetime, tmp_path
) -> None:
    new_tin(blues, "Harbour", ["4h"], now=now)
    fill_tin(blues, "Harbour", ["p1", "p2", "p3"], now=now)
    chart, _ = rule_tin_chart(blues, ["Harbour"], tmp_path / "t.pdf", now=now, new_id=lambda: "TIN111")
    move_pan(blues, "Harbour", "A1", "A4", now=now)
    add_paints(blues, parse_table("Old Quarry, Smalt, PB32"), now=now + LATER)
    one = followed(blues, chart.chart)
    assert [(move.was, move.now) for move in one.moved] == [("p1", None), (None, "p1")]
    assert one.repaint == ("4",)
    assert one.newcomers == ()


def test_a_box_left_for_a_repaint_is_asked_for_until_something_accepted_stands_for_it(painted, now) -> None:
    from halfpan.collection import readings
    from halfpan.studio.measuring import ReadWish
    from halfpan.studio.read_chart import read_chart
    from halfpan.studio.review import Which, set_aside

    studio, chart = painted.studio, painted.chart.chart
    read_chart(studio, [painted.scan], ReadWish(review=True), now=now)
    one = followed(studio, chart)
    assert one.step == "read"
    assert one.read == one.waiting > 2
    with studio.look() as db:
        (box, *_) = [k.reading.box for k in readings.listed(db, chart=chart)]
        numbers = tuple(k.id for k in readings.listed(db, chart=chart) if k.reading.box == box)
    set_aside(studio, Which(numbers=numbers), "left for a repaint", now=now)
    assert followed(studio, chart).again == (box,)
    assert followed(studio, chart).repaint == (box,)


def test_a_paint_in_a_window_alone_is_on_no_chart_yet(blues: Studio, now: datetime, tmp_path) -> None:
    add_paints(blues, parse_table("Old Quarry, Smalt, PB32"), now=now + LATER)
    test = LightTest("South window", now.date())
    hang_strip(blues, test, ChartWish(paints="Smalt"), tmp_path / "w.pdf", now=now + LATER)
    assert names(followed(blues, "BLUES1")) == ["Smalt"]
