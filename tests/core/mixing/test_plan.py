"""Planning: the boxes asked for teach more than others, and the forecast comes true."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from invented_paints import PAINTS, ladders, mix, pairs, read

from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.observation import Recipe
from halfpan.core.mixing.plan import every_pair, plan_boxes
from halfpan.core.mixing.trust import spread, whitened_slopes
from halfpan.errors import NotLearnt


def test_each_box_leaves_less_to_be_known():
    learnt = learn(read(ladders()))
    plan = plan_boxes(learnt, 5, candidates=every_pair(PAINTS, learnt))
    told = [plan.now_delta_e00, *plan.after_each]
    assert all(later < earlier for earlier, later in pairwise(told))
    assert plan.forecast_delta_e00 == plan.after_each[-1]
    assert len(set(plan.boxes)) == 5


def test_the_choice_agrees_with_trying_every_box():
    # Oracle: for each candidate the posterior is worked out in full, by solving the whole system anew.
    learnt = learn(read(ladders()))
    candidates = pairs()
    plan = plan_boxes(learnt, 3, candidates=candidates)
    covariance = learnt.covariance(range(3))
    films = arrange(candidates, learnt.rows, learnt.unit)
    _, slopes, _ = whitened_slopes(learnt, films)
    n = learnt.coefficients.shape[1]
    dense = np.zeros((len(candidates), 3, 3 * n))
    for i, paints in enumerate(films.paints[:, 0]):
        for place, p in enumerate(paints):
            dense[i, :, p * n : (p + 1) * n] += slopes[i, :, place * n : (place + 1) * n]
    precision, chosen = np.linalg.inv(covariance), []
    for _ in range(3):
        left = [
            np.trace(
                dense @ np.linalg.inv(precision + J.T @ J / 1.25**2) @ dense.swapaxes(1, 2), axis1=1, axis2=2
            ).sum()
            if i not in chosen
            else np.inf
            for i, J in enumerate(dense)
        ]
        chosen.append(int(np.argmin(left)))
        precision = precision + dense[chosen[-1]].T @ dense[chosen[-1]] / 1.25**2
    assert [candidates.index(box) for box in plan.boxes] == chosen


def test_the_forecast_comes_true_when_the_boxes_are_painted():
    learnt = learn(read(ladders()))
    plan = plan_boxes(learnt, 4, candidates=pairs())
    after = learn(read(ladders()) + read(plan.boxes))
    found = spread(after, arrange(pairs(), after.rows, after.unit)).within().mean()
    assert found == pytest.approx(plan.forecast_delta_e00, rel=0.35)


def test_targets_decide_what_is_asked():
    learnt = learn(read(ladders()))
    wanted = [mix(("blue", 2.0), ("yellow", 2.0))]
    plan = plan_boxes(learnt, 1, candidates=every_pair(PAINTS, learnt), targets=wanted)
    assert set(plan.boxes[0].paints) == {"blue", "yellow"}


def test_a_glaze_can_be_asked_for():
    learnt = learn(read(ladders()))
    glaze = Recipe((((("blue"), 3.0),), (("blue", 2.0), ("rose", 1.0))))
    plan = plan_boxes(learnt, 1, candidates=[glaze])
    assert plan.boxes == (glaze,)
    assert plan.forecast_delta_e00 < plan.now_delta_e00


def test_no_more_boxes_are_planned_than_there_are():
    learnt = learn(read(ladders()))
    assert len(plan_boxes(learnt, 99, candidates=pairs(((1, 1),))).boxes) == 3


def test_paints_nothing_was_read_of_are_refused():
    learnt = learn(read(ladders()))
    with pytest.raises(NotLearnt, match="umber"):
        plan_boxes(learnt, 1, candidates=[mix(("blue", 1.0), ("umber", 1.0))])
