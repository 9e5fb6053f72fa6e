"""Planning from a studio: boxes worth painting, never one that is painted already."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from halfpan.collection import charts, tins
from halfpan.collection.tins import Held, KeptTin
from halfpan.core.mixing.predict import FULL_STRENGTH
from halfpan.errors import BadRequest, NotLearnt
from halfpan.studio.plan_mixes import in_parts, plan_mixes
from halfpan.studio.print_plan import print_plan
from halfpan.studio.studio import Studio

from .mixed_studio import NOW, keep, ladders, measured, mixed_studio, with_paints


def test_boxes_are_planned_in_the_unit_of_the_readings(studio: Studio) -> None:
    mixed_studio(studio, mixes=False)
    found = plan_mixes(studio, boxes=4)
    assert len(found.plan.boxes) == 4
    amounts = {amount for box in found.plan.boxes for _, amount in box.layers[0]}
    assert amounts <= {found.unit * step for step in (1, 2, 4, 8)}
    assert found.plan.forecast_delta_e00 < found.plan.now_delta_e00


def test_a_painted_box_is_not_asked_for_again(studio: Studio) -> None:
    ids = mixed_studio(studio, mixes=False)
    first = plan_mixes(studio, boxes=1).plan.boxes[0]
    keep(studio, measured([first.layers[0]], ids, "painted.csv"))
    again = plan_mixes(studio, boxes=30).plan.boxes
    assert frozenset(first.layers[0]) not in {frozenset(box.layers[0]) for box in again}


def test_a_new_tube_is_taught_by_boxes_with_it(studio: Studio) -> None:
    ids = mixed_studio(studio)
    found = plan_mixes(studio, boxes=3, new_tube="Rose")
    assert all(ids["Rose"] in box.paints for box in found.plan.boxes)


def test_a_plan_needs_two_paints_that_were_read(studio: Studio) -> None:
    mixed_studio(studio)
    with pytest.raises(NotLearnt, match="two paints"):
        plan_mixes(studio, among="Rose, Moss")
    with pytest.raises(NotLearnt, match="Nothing was read"):
        plan_mixes(studio, new_tube="Moss")
    with pytest.raises(BadRequest):
        plan_mixes(studio, boxes=0)


def test_a_plan_is_printed_as_a_sheet_to_paint(studio: Studio, tmp_path: Path) -> None:
    mixed_studio(studio, mixes=False)
    found = plan_mixes(studio, boxes=3, by_parts=True)
    chart, geometry = print_plan(studio, found, tmp_path / "mixes.pdf", now=NOW)
    boxes = [box for page in chart.pages for box in page.boxes if box.mix]
    assert [{part.paint for part in box.mix} for box in boxes] == [set(b.paints) for b in found.plan.boxes]
    shown = [tuple((part.paint, part.parts) for part in box.mix) for box in boxes]
    assert shown == found.washes()
    assert {parts for box in shown for _, parts in box} <= {1.0, 2.0, 4.0}
    assert geometry.exists()
    with studio.look() as db:
        assert charts.find(db, chart.chart).chart.kind == "mixes"


def test_a_tin_can_be_asked_for_by_its_name(studio: Studio) -> None:
    ids = mixed_studio(studio)
    tin = KeptTin("Field", ("hh",))
    seats = [seat.name for seat in tin.tin.seats]
    held = {seats[0]: Held(ids["Rose"]), seats[1]: Held(ids["Straw"])}
    with studio.transaction() as db:
        tins.add(db, replace(tin, held=held))
        tins.add(db, replace(tin, name="Empty"))
    found = plan_mixes(studio, boxes=2, among="field")
    assert {p for box in found.plan.boxes for p in box.paints} == {ids["Rose"], ids["Straw"]}
    with pytest.raises(BadRequest, match="is empty"):
        plan_mixes(studio, among="Empty")


def test_a_studio_of_charts_alone_is_planned_by_parts(studio: Studio) -> None:
    ids = with_paints(studio)
    swatches = [
        replace(one, amounts=(), reading=replace(one.reading, zone="masstone"))
        for one in measured(ladders(ids), ids, "photo")
    ]
    keep(studio, swatches)
    found = plan_mixes(studio, boxes=5)
    assert found.by_parts
    totals = [sum(amount for _, amount in box.layers[0]) for box in found.plan.boxes]
    assert totals == pytest.approx([FULL_STRENGTH * found.unit] * 5)
    assert len({frozenset(wash) for wash in found.washes()}) == 5


def test_parts_are_the_smallest_whole_ones() -> None:
    assert in_parts((("a", 0.02), ("b", 0.08))) == (("a", 1.0), ("b", 4.0))
    assert in_parts((("a", 2.0), ("b", 3.0))) == (("a", 2.0), ("b", 3.0))
    assert in_parts((("a", 2.5), ("b", 2.5))) == (("a", 1.0), ("b", 1.0))
