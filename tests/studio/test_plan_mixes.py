"""Planning from a studio: boxes worth painting, never one that is painted already."""

from __future__ import annotations

import pytest

from halfpan.errors import BadRequest, NotLearnt
from halfpan.studio.plan_mixes import plan_mixes
from halfpan.studio.studio import Studio

from .mixed_studio import keep, measured, mixed_studio


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
