"""A paint whose strength cannot be known from its swatches is named, with the box that would tell."""

from __future__ import annotations

import numpy as np
import pytest
from invented_paints import ladders, pairs, read

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.film import film_over
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.observation import BLACK_LINE, PLAIN_PAPER, Observation, Recipe
from halfpan.core.mixing.plan import every_pair
from halfpan.core.mixing.prior import basis_of
from halfpan.core.mixing.strength import settling_box, strength_unknown
from halfpan.core.mixing.trust import spread, whitened_slopes


def films(paint, K, S, ground=PLAIN_PAPER, steps=(1.0, 3.0, 9.0)):
    """Return washes of a paint of even absorption and scattering, by the film alone."""
    under = ground_reflectance(ground)

    def seen(step):
        return tuple(
            reflectance_to_lab(film_over(np.full(31, K * step), np.full(31, S * step), under)).tolist()
        )

    return [Observation(Recipe((((paint, step),),), ground), seen(step)) for step in steps]


def test_black_is_opaque_at_every_step_and_white_does_not_show():
    found = strength_unknown(learn(read(ladders()) + films("black", 30.0, 0.5) + films("white", 0.001, 1.0)))
    assert {p: u.reason for p, u in found.items()} == {
        "black": "opaque at every step",
        "white": "white on white",
    }
    assert found["black"].sentence() == "strength of black unknown: its swatches hide the paper at every step"


def test_white_over_a_black_line_shows_its_cover():
    white = films("white", 0.001, 0.05) + films("white", 0.001, 0.05, BLACK_LINE)
    assert "white" not in strength_unknown(learn(white))


def test_a_painted_mix_settles_it():
    swatches = read(ladders()) + films("black", 30.0, 0.5)
    box = Observation(Recipe(((("black", 1.0), ("yellow", 8.0)),)), (30.0, -5.0, 20.0))
    assert "black" in strength_unknown(learn(swatches))
    assert "black" not in strength_unknown(learn([*swatches, box]))


def test_guessed_amounts_leave_strength_unknown():
    found = strength_unknown(learn(read(ladders(), amounts="unknown")))
    assert {u.reason for u in found.values()} == {"amounts unknown"}


def test_the_settling_box_tells_more_than_the_others():
    # Oracle: the posterior with each box in turn, by inverting the whole precision anew.
    learnt = learn(read(ladders()) + films("white", 0.001, 1.0))
    boxes = [box for other in ("blue", "rose", "yellow") for box in every_pair(["white", other], learnt)]
    asked = arrange(boxes, learnt.rows, learnt.unit)
    _, slopes, _ = whitened_slopes(learnt, asked)
    strength = np.append(basis_of(learnt.prior).curves.mean(axis=0), 0.0)
    left = []
    for J, paints in zip(slopes, asked.paints[:, 0], strict=True):
        precision = np.linalg.inv(learnt.covariance(paints.tolist())) + J.T @ J / learnt.prior.mix_doubt**2
        at = np.concatenate([strength, np.zeros_like(strength)])
        left.append(at @ np.linalg.solve(precision, at))
    assert settling_box(learnt, "white") == boxes[int(np.argmin(left))]
    assert strength_unknown(learnt, settle=True)["white"].settles == boxes[int(np.argmin(left))]


def test_a_paint_alone_in_the_studio_has_no_settling_box():
    learnt = learn(films("black", 30.0, 0.5))
    assert settling_box(learnt, "black") is None
    assert strength_unknown(learnt, settle=True)["black"].settles is None


def test_a_white_that_does_not_show_is_still_thought_to_cover():
    # A paint that hardly absorbs is sold because it covers; the doubt says that nobody has seen it yet.
    learnt = learn(films("white", 0.001, 1.0))
    over_black = Recipe(((("white", 8.0),),), BLACK_LINE)
    expected = spread(learnt, arrange([over_black], learnt.rows, learnt.unit))
    assert delta_e_2000(expected.lab[0], np.array(BLACK_LINE)) > 20
    assert expected.within()[0] > 10


@pytest.mark.parametrize("count", [0, 1])
def test_mixed_paints_are_known_by_their_mixes(count):
    learnt = learn(read(ladders()) + read(pairs()[:count]))
    assert strength_unknown(learnt) == {}
