"""Learning: paints with known curves are found again, whatever is known of their amounts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_paints import PAINTS, PRIOR, ROWS, ladders, mix, over_black, pairs, read, truth

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import learn, weakest_swatch
from halfpan.core.mixing.observation import Observation, Recipe
from halfpan.core.mixing.trust import spread
from halfpan.errors import NotLearnt


def error(learnt, recipes, seed=1):
    true = colours(arrange(recipes, ROWS, 1.0), truth(seed), PRIOR)
    films = arrange(recipes, learnt.rows, learnt.unit)
    return delta_e_2000(colours(films, learnt.coefficients, learnt.prior), true)


def test_painted_boxes_teach_what_swatches_cannot():
    unseen = [mix(("blue", 3.0), ("yellow", 5.0)), mix(("rose", 2.0), ("yellow", 6.0))]
    alone = error(learn(read(ladders()), unit=1.0), unseen).mean()
    taught = error(learn(read(ladders()) + read(pairs()), unit=1.0), unseen).mean()
    assert taught < 0.5
    assert taught < alone / 2


def test_learning_weak_gives_the_same_numbers():
    films = read(ladders()) + read(pairs(), noise=1.0)
    assert np.array_equal(learn(films).coefficients, learn(films).coefficients)


def test_beginning_at_an_earlier_answer_ends_at_the_same_colours():
    films = read(ladders()) + read(pairs(), noise=1.0)
    fresh = learn(films)
    warm = learn(films, start=learn(films[:-1]))
    asked = arrange(pairs(), fresh.rows, fresh.unit)
    apart = delta_e_2000(colours(asked, fresh.coefficients, PRIOR), colours(asked, warm.coefficients, PRIOR))
    assert apart.max() < 0.1


def test_the_unit_of_amounts_does_not_matter():
    films = read(ladders()) + read(pairs())
    tenth = [
        replace(o, recipe=Recipe(tuple(tuple((p, a / 10) for p, a in w) for w in o.recipe.layers)))
        for o in films
    ]
    one, other = learn(films), learn(tenth)
    assert weakest_swatch(tenth) == pytest.approx(0.1)
    assert np.allclose(one.coefficients, other.coefficients, atol=1e-6)


def test_paints_that_never_met_are_found_apart():
    learnt = learn(read(ladders()) + read([mix(("blue", 2.0), ("rose", 2.0))]))
    assert {group.members for group in learnt.groups} == {(0, 1), (2,)}
    joint = learnt.covariance([0, 2])
    per_paint = learnt.coefficients.shape[1]
    assert np.all(joint[:per_paint, per_paint:] == 0)
    assert np.allclose(joint[per_paint:, per_paint:], learnt.groups[1].covariance)


def test_the_covariance_follows_the_order_asked_for():
    learnt = learn(read(ladders()) + read(pairs()))
    n = learnt.coefficients.shape[1]
    one, other = learnt.covariance([0, 2]), learnt.covariance([2, 0])
    assert np.allclose(one[:n, n:], other[n:, :n])
    assert np.abs(one[:n, n:]).max() > 0


def test_what_is_painted_leaves_less_doubt():
    asked = pairs()
    before, after = learn(read(ladders())), learn(read(ladders()) + read(pairs()))
    doubt = [spread(k, arrange(asked, k.rows, k.unit)).within().mean() for k in (before, after)]
    assert doubt[1] < doubt[0] / 1.5


def test_swatches_over_the_black_line_teach_cover():
    unseen = pairs()
    without = learn(read(ladders(), amounts="known"))
    with_line = learn(read(ladders()) + read(over_black(ladders())))
    films = arrange(unseen, without.rows, without.unit)
    assert spread(with_line, films).within().mean() < spread(without, films).within().mean()
    assert error(with_line, unseen).mean() < error(without, unseen).mean()


def test_guessed_amounts_are_put_right_by_the_colour_itself():
    # The washes are five times as strong as was guessed; boxes with known amounts say so.
    weak = [
        replace(o, recipe=mix(*((p, a / 5) for p, a in o.recipe.layers[0])), amounts="unknown")
        for o in read(ladders(), occasion="guess")
    ]
    believed = [replace(o, amounts="known") for o in weak]
    boxes = read(pairs(((1, 1), (4, 4))))
    unseen = [mix(("blue", 2.0), ("rose", 4.0)), mix(("blue", 6.0))]
    assert (
        error(learn(weak + boxes, unit=1.0), unseen).mean()
        < error(learn(believed + boxes, unit=1.0), unseen).mean()
    )


def test_films_of_one_brushful_share_their_amount():
    # Masstone over paper and over black of one stroke: one unknown amount, not two.
    from halfpan.core.mixing.fitting import set_task

    strokes = read(ladders((8.0,)), amounts="unknown", wash="stroke")
    lines = read(over_black(ladders((8.0,))), amounts="unknown", wash="stroke")
    shared = set_task(strokes[:1] + lines[:1], ("blue",), unit=1.0, prior=PRIOR)
    apart = set_task([*strokes[:1], replace(lines[0], wash="other")], ("blue",), unit=1.0, prior=PRIOR)
    assert shared.hidden.shape[1] == apart.hidden.shape[1] - 1


def test_one_swapped_box_does_not_drag_a_paint_away():
    films = read(ladders()) + read(pairs())
    wrong = [*films[:-1], replace(films[-1], lab=(90.0, 0.0, 60.0))]
    unseen = [mix(("blue", 3.0), ("yellow", 5.0)), mix(("rose", 2.0), ("yellow", 6.0))]
    assert error(learn(wrong), unseen).mean() < 1.0


def test_several_papers_are_kept_apart():
    cream = (90.0, 2.0, 14.0)
    on_cream = [replace(r, ground=cream) for r in pairs()]
    learnt = learn(read(ladders()) + read(on_cream), unit=1.0)
    assert error(learnt, pairs()).mean() < 1.0


def test_a_painted_glaze_teaches_too():
    glazes = [Recipe((((a, 3.0),), ((b, 4.0),))) for a in PAINTS for b in PAINTS if a != b]
    unseen = [Recipe((((a, 6.0),), ((b, 2.0),))) for a in PAINTS for b in PAINTS if a != b]
    alone = error(learn(read(ladders()), unit=1.0), unseen).mean()
    assert error(learn(read(ladders()) + read(glazes), unit=1.0), unseen).mean() < alone


def test_a_film_of_nothing_is_no_unit():
    nothing = Observation(Recipe(((),)), (95.0, 0.0, 1.0))
    assert weakest_swatch([nothing, *read(ladders((2.0, 4.0)))]) == 2.0
    assert weakest_swatch([nothing]) == 1.0


def test_nothing_read_means_nothing_learnt():
    learnt = learn([Observation(Recipe(((),)), (95.0, 0.0, 1.0))])
    assert learnt.paints == ()
    with pytest.raises(NotLearnt, match="Nothing was read of blue"):
        learnt.require(["blue"])


def test_only_what_was_read_anew_is_learnt_anew():
    films = read(ladders()) + read([mix(("blue", 2.0), ("rose", 2.0))])
    known = learn(films)
    marked = replace(known, coefficients=known.coefficients + 1.0)  # to see what is taken over
    again = learn(films, known=marked)
    assert np.array_equal(again.coefficients, marked.coefficients)
    more = learn([*films, *read([mix(("blue", 4.0), ("rose", 1.0))])], known=marked)
    assert np.array_equal(more.coefficients[2], marked.coefficients[2])  # yellow never met the others
    fresh = learn([*films, *read([mix(("blue", 4.0), ("rose", 1.0))])])
    assert np.array_equal(more.coefficients[:2], fresh.coefficients[:2])
