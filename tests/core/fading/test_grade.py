"""The grey scale for change in colour: ISO 105-A02, whole steps as published, half steps from memory."""

import pytest

from halfpan.core.fading.grade import GREY_SCALE, JUST_SEEN, grey_step

PUBLISHED = {"5": 0.0, "4": 1.7, "3": 3.4, "2": 6.8, "1": 13.6}


def test_whole_steps_are_those_of_the_standard_and_double_from_4_on():
    assert {step: GREY_SCALE[step] for step in PUBLISHED} == PUBLISHED
    assert [2 * GREY_SCALE[step] for step in ("4", "3", "2")] == pytest.approx([3.4, 6.8, 13.6])
    assert JUST_SEEN == 1.7


@pytest.mark.parametrize("step", GREY_SCALE)
def test_a_change_of_just_a_step_is_that_step(step):
    assert grey_step(GREY_SCALE[step]) == step


def test_between_two_steps_the_nearer_counts_and_midway_the_more_changed():
    assert grey_step(1.2) == "4-5"
    assert grey_step(1.25) == "4"
    assert grey_step(40.0) == "1"
