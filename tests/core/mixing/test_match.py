"""Matching: a colour that was mixed is found again, in parts a painter can measure."""

from __future__ import annotations

from itertools import combinations
from math import gcd

import numpy as np
import pytest
from invented_paints import PAINTS, ladders, mix, pairs, read

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import Films
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.identify import identify_by_mixing
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.match import match_colour, painted_near
from halfpan.core.mixing.near import STRONGEST, WEAKEST, approach
from halfpan.core.mixing.observation import PLAIN_PAPER
from halfpan.core.mixing.predict import FULL_STRENGTH, predict
from halfpan.core.mixing.reach import reach_of_pair
from halfpan.errors import NotLearnt

LEARNT = learn(read(ladders()) + read(pairs()), unit=1.0)


def colour(*parts):
    return predict(LEARNT, [mix(*parts)])[0].lab


@pytest.mark.parametrize(
    "parts", [(("blue", 3), ("rose", 1)), (("rose", 5), ("yellow", 2)), (("blue", 1), ("yellow", 6))]
)
def test_a_mix_of_two_is_found_again(parts):
    lab = colour(*((p, n * 6.0 / sum(k for _, k in parts)) for p, n in parts))
    best = match_colour(LEARNT, lab, PAINTS, most=2)[0]
    assert best.apart < 1.0
    assert best.verdict == "reached"
    assert {p for p, _ in best.parts} == {p for p, _ in parts}


def test_a_mix_of_three_is_found_again():
    lab = colour(("blue", 3.0), ("rose", 2.0), ("yellow", 1.0))
    assert min(m.apart for m in match_colour(LEARNT, lab, PAINTS, most=3)) < 1.0


def test_parts_are_whole_and_can_be_measured():
    for match in match_colour(LEARNT, (50.0, 5.0, 5.0), PAINTS):
        parts = [n for _, n in match.parts]
        assert min(parts) >= 1
        assert max(parts) <= 8
        assert gcd(*parts) == 1 if len(parts) > 1 else parts == [1]
        total = sum(a for _, a in match.prediction.recipe.layers[0])
        assert total == pytest.approx(match.strength * FULL_STRENGTH * LEARNT.unit)


def test_the_answer_repeats_what_a_prediction_says():
    for match in match_colour(LEARNT, (50.0, 5.0, 5.0), PAINTS)[:3]:
        again = predict(LEARNT, [match.prediction.recipe])[0]
        assert again.lab == pytest.approx(match.prediction.lab, abs=1e-9)
        assert again.flags == match.prediction.flags
        assert match.apart == pytest.approx(float(delta_e_2000(np.array(again.lab), np.array([50.0, 5, 5]))))


def test_no_pair_on_a_fine_grid_comes_nearer():
    # Oracle: every pair at 60 ratios and 60 strengths.
    target = np.array([55.0, 20.0, 10.0])
    found = min(m.apart for m in match_colour(LEARNT, tuple(target), PAINTS, most=2))
    ratios, totals = np.geomspace(1 / 8, 8, 60), np.geomspace(WEAKEST, STRONGEST, 60)
    best = np.inf
    for a, b in combinations(range(3), 2):
        r, t = (x.ravel() for x in np.meshgrid(ratios, totals))
        amounts = np.stack([t * r / (1 + r), t / (1 + r)], axis=1)[:, None, :]
        grounds = np.tile(ground_reflectance(PLAIN_PAPER), (len(t), 1))
        films = Films(np.tile([a, b], (len(t), 1))[:, None, :], amounts, grounds)
        best = min(best, delta_e_2000(colours(films, LEARNT.coefficients, LEARNT.prior), target).min())
    assert found < best + 0.6  # whole parts cost a little


def test_a_colour_out_of_reach_is_said_to_be():
    neon = match_colour(LEARNT, (90.0, -90.0, 90.0), PAINTS)
    assert neon
    assert all(m.verdict == "not reachable" for m in neon)


def test_four_paints_at_most_and_each_set_once():
    found = match_colour(LEARNT, (40.0, 0.0, 0.0), PAINTS, most=4, count=50)
    sets = [frozenset(p for p, _ in m.parts) for m in found]
    assert len(sets) == len(set(sets))
    assert max(map(len, sets)) <= 3  # only three paints are here


def test_one_paint_can_only_be_thinned():
    found = match_colour(LEARNT, colour(("rose", 2.0)), ["rose"])
    assert [m.parts for m in found] == [(("rose", 1),)]
    assert found[0].apart < 0.1
    assert found[0].strength == pytest.approx(2.0 / FULL_STRENGTH, rel=0.05)


def test_matching_a_paint_nothing_was_read_of_is_refused():
    with pytest.raises(NotLearnt):
        match_colour(LEARNT, (50.0, 0.0, 0.0), ["rose", "umber"])


def test_painted_proof_is_found_by_colour():
    box = LEARNT.observations[-1]
    found = painted_near(LEARNT.observations, box.lab)
    assert found[0].observation == box
    assert found[0].apart == 0
    assert painted_near((), box.lab) == ()


def test_the_approach_stays_within_what_can_be_painted():
    found = approach(
        LEARNT,
        np.array([5.0, 0.0, 0.0]),
        ground_reflectance(PLAIN_PAPER),
        paints=np.array([[0, 1], [1, 2]]),
        amounts=np.ones((2, 2)),
    )
    totals = found.amounts.sum(axis=1)
    assert np.all(totals <= STRONGEST * 1.001)
    assert np.all(found.amounts.max(axis=1) / found.amounts.min(axis=1) < 10.01)


def test_a_mixed_paint_is_known_by_what_it_does_at_every_strength():
    parts = (("blue", 2.0), ("yellow", 1.0))
    colours_read = [colour(*((p, n * k) for p, n in parts)) for k in (2.6, 1.0, 0.3)]
    best = identify_by_mixing(LEARNT, colours_read, PAINTS)[0]
    assert best.apart < 1.0
    assert len(best.apart_each) == 3
    assert {p for p, _ in best.parts} >= {"blue", "yellow"}


def test_a_pair_reaches_from_one_paint_to_the_other():
    reach = reach_of_pair(LEARNT, "blue", "yellow")
    full = FULL_STRENGTH * LEARNT.unit
    assert reach.lab[0, 0] == pytest.approx(colour(("blue", full)), abs=1e-9)
    assert reach.lab[0, -1] == pytest.approx(colour(("yellow", full)), abs=1e-9)
    assert reach.lab.shape == (len(reach.strengths), len(reach.shares), 3)
    assert np.all(np.diff(reach.lab[:, 0, 0]) > 0)  # thinner is lighter
    assert reach.within_delta_e00.shape == reach.lab.shape[:2]
