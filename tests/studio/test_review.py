from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from halfpan.collection import readings, swatches
from halfpan.errors import BadRequest
from halfpan.studio.keep_page import DOUBTFUL
from halfpan.studio.measuring import ReadWish
from halfpan.studio.read_chart import read_chart
from halfpan.studio.review import Which, accept, choose, list_readings, put_back, set_aside
from halfpan.studio.undo import latest_changes, undo

from .conftest import PaintedChart


@pytest.fixture
def waiting(painted: PaintedChart, now: datetime) -> PaintedChart:
    read_chart(painted.studio, [painted.scan], ReadWish(review=True, target="none"), now=now)
    return painted


def states(painted: PaintedChart) -> dict[str, set[str]]:
    """Give the states of the readings and of the swatch of each box."""
    with painted.studio.look() as db:
        kept = readings.listed(db)
        told = {one.swatch.box: one.state for one in swatches.listed(db)}
    found: dict[str, set[str]] = {}
    for one in kept:
        found.setdefault(one.reading.box, set()).add(one.reading.state)
    return {box: held | {told[box]} for box, held in found.items()}


def test_accepting_a_box_lets_it_count(waiting: PaintedChart, now: datetime) -> None:
    chart = waiting.chart.chart
    count = accept(waiting.studio, Which(chart=chart, box="1"), now=now)
    assert count > 0
    assert latest_changes(waiting.studio, limit=1)[0].what == f"accepted {count} readings"
    assert states(waiting)["1"] == {"accepted"}
    assert states(waiting)["2"] == {"to review"}
    with waiting.studio.look() as db:
        assert set(swatches.counting(db)) == {"p1"}


def test_setting_a_masstone_aside_takes_its_box_out_of_the_answers(
    waiting: PaintedChart, now: datetime
) -> None:
    accept(waiting.studio, Which(chart=waiting.chart.chart), now=now)
    (masstone,) = [
        one for one in list_readings(waiting.studio, Which(paint="p1")) if one.kept.reading.zone == "masstone"
    ]
    set_aside(waiting.studio, Which((masstone.kept.id,)), "swapped with its neighbour", now=now)
    with waiting.studio.look() as db:
        assert set(swatches.counting(db)) == {"p2", "p3"}
        assert readings.of_ids(db, [masstone.kept.id])[0].reason == "swapped with its neighbour"
    undo(waiting.studio, now=now)
    with waiting.studio.look() as db:
        assert set(swatches.counting(db)) == {"p1", "p2", "p3"}


def test_setting_aside_needs_a_reason(waiting: PaintedChart, now: datetime) -> None:
    with pytest.raises(BadRequest, match="--reason"):
        set_aside(waiting.studio, Which(chart=waiting.chart.chart), "  ", now=now)


def test_accepting_a_chart_leaves_alone_what_was_set_aside(waiting: PaintedChart, now: datetime) -> None:
    chart = waiting.chart.chart
    set_aside(waiting.studio, Which(chart=chart, box="2"), "hair in the paint", now=now)
    accept(waiting.studio, Which(chart=chart), now=now)
    assert states(waiting) == {"1": {"accepted"}, "2": {"set aside"}, "3": {"accepted"}}
    put_back(waiting.studio, Which(chart=chart, box="2"), now=now)
    assert states(waiting)["2"] == {"to review"}


def test_the_reading_that_counts_can_be_chosen(waiting: PaintedChart, now: datetime) -> None:
    accept(waiting.studio, Which(chart=waiting.chart.chart), now=now)
    with waiting.studio.transaction() as db:
        old = readings.counting(db)["p1", "masstone"]
        better = replace(old, page_read=None, reading=replace(old.reading, within_delta_e00=0.1))
        readings.add_all(db, [better])
        assert readings.counting(db)["p1", "masstone"].id != old.id
    choose(waiting.studio, old.id, now=now)
    with waiting.studio.look() as db:
        assert readings.counting(db)["p1", "masstone"].id == old.id
        assert swatches.counting(db)["p1"].chosen


def test_a_better_light_tier_counts_before_a_smaller_radius(waiting: PaintedChart, now: datetime) -> None:
    accept(waiting.studio, Which(chart=waiting.chart.chart), now=now)
    with waiting.studio.transaction() as db:
        old = readings.counting(db)["p1", "masstone"]
        measured = replace(old, reading=replace(old.reading, tier="instrument", within_delta_e00=9.0))
        (number,) = readings.add_all(db, [measured])
        assert readings.counting(db)["p1", "masstone"].id == number


def test_the_doubtful_come_first_in_review(waiting: PaintedChart, now: datetime) -> None:
    with waiting.studio.transaction() as db:
        one = readings.listed(db)[-1]
        flagged = replace(
            one, reading=replace(one.reading, flags=("pictures disagree",), within_delta_e00=99.0)
        )
        (number,) = readings.add_all(db, [flagged])
    found = list_readings(waiting.studio, Which(state="to review"))
    assert found[0].kept.id == number
    plain = [one.kept.reading for one in found if not DOUBTFUL & set(one.kept.reading.flags)]
    radii = [one.within_delta_e00 for one in plain]
    assert radii == sorted(radii, reverse=True)


def test_a_number_that_is_no_reading_is_refused(waiting: PaintedChart, now: datetime) -> None:
    with pytest.raises(BadRequest, match="no reading 999"):
        accept(waiting.studio, Which((1, 999)), now=now)
    assert states(waiting)["1"] == {"to review"}
