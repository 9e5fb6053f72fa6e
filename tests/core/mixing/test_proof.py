"""Painted proof: boxes of a pair pull the answers for that pair, and no others."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from invented_paints import ladders, mix, pairs, read

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.observation import Recipe
from halfpan.core.mixing.predict import predict
from halfpan.core.mixing.proof import pull_of_proof


def with_odd_pair():
    """Return what is learnt when all boxes of blue and yellow come out 4 lighter than films say."""
    boxes = [
        replace(o, lab=(o.lab[0] + 4.0, *o.lab[1:])) if set(o.recipe.paints) == {"blue", "yellow"} else o
        for o in read(pairs())
    ]
    return learn(read(ladders()) + boxes, unit=1.0), boxes


def pull(learnt, *recipes):
    return pull_of_proof(learnt, arrange(recipes, learnt.rows, learnt.unit))


def test_a_painted_pair_is_answered_nearer_to_what_was_painted():
    learnt, boxes = with_odd_pair()
    painted = [o for o in boxes if set(o.recipe.paints) == {"blue", "yellow"}]
    lab = np.array([o.lab for o in painted])
    told = np.array([p.lab for p in predict(learnt, [o.recipe for o in painted])])
    bare = told - pull(learnt, *(o.recipe for o in painted))
    assert delta_e_2000(told, lab).mean() < delta_e_2000(bare, lab).mean()


def test_single_paints_glazes_and_unpainted_mixes_are_left_alone():
    learnt, _ = with_odd_pair()
    for recipe in (
        mix(("blue", 2.0)),
        mix(("blue", 2.0), ("rose", 1.0), ("yellow", 1.0)),
        Recipe(((("blue", 2.0),), (("yellow", 2.0),))),
    ):
        assert np.all(pull(learnt, recipe) == 0)
    assert np.all(pull(learn(read(ladders())), mix(("blue", 2.0), ("yellow", 2.0))) == 0)


def test_the_pull_does_not_depend_on_the_order_of_parts():
    learnt, _ = with_odd_pair()
    one, other = pull(learnt, mix(("blue", 2.0), ("yellow", 3.0)), mix(("yellow", 3.0), ("blue", 2.0)))
    assert np.abs(one).max() > 0.1
    assert np.allclose(one, other)


def test_far_strengths_are_pulled_less():
    learnt, _ = with_odd_pair()
    near, far = pull(learnt, mix(("blue", 2.0), ("yellow", 2.0)), mix(("blue", 200.0), ("yellow", 200.0)))
    assert np.linalg.norm(far) < np.linalg.norm(near) / 2
