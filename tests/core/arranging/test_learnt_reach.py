"""The reach of learnt paints: against the mixing model asked recipe by recipe."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from halfpan.core.arranging.learnt_reach import learnt_reach, pair_colours
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.observation import PLAIN_PAPER, Observation, Recipe
from halfpan.core.mixing.predict import FULL_STRENGTH
from halfpan.core.mixing.prior import Prior, basis_of
from halfpan.errors import NotLearnt
from halfpan.files.reach import mark_of_reach, read_reach, write_reach

PAINTS = ("a", "b", "c", "d")


@pytest.fixture(scope="module")
def learnt():
    truth = np.random.default_rng(3).normal(scale=0.8, size=(4, basis_of(Prior()).per_paint))
    recipes = [Recipe((((p, amount),),), PLAIN_PAPER) for p in PAINTS for amount in (1.0, 3.0, 9.0)]
    rows = {p: i for i, p in enumerate(PAINTS)}
    seen = colours(arrange(recipes, rows, 1.0), truth, Prior())
    return learn([Observation(r, tuple(lab)) for r, lab in zip(recipes, seen.tolist(), strict=True)])


def test_pair_colours_are_those_of_the_model_recipe_by_recipe(learnt):
    shares, strengths = (0.0, 0.25, 1.0), (1.0, 0.5)
    found = pair_colours(learnt, PAINTS, np.array([[0, 2]]), shares=shares, strengths=strengths)[0]
    full = FULL_STRENGTH * learnt.unit
    recipes = [
        Recipe(((("a", full * s * (1 - share)), ("c", full * s * share)),), PLAIN_PAPER)
        for share in shares
        for s in strengths
    ]
    films = arrange(recipes, learnt.rows, learnt.unit)
    assert found.reshape(-1, 3) == pytest.approx(colours(films, learnt.coefficients, learnt.prior), abs=1e-9)


def test_a_paint_more_never_lowers_reach(learnt):
    table = learnt_reach(learnt, PAINTS)
    counts = [table.count(range(n)) for n in range(5)]
    assert counts == sorted(counts)
    assert counts[0] == 0
    assert counts[-1] > 0


def test_an_unread_paint_is_refused(learnt):
    with pytest.raises(NotLearnt):
        learnt_reach(learnt, ("a", "nobody"))


def test_a_kept_table_is_used_only_for_the_same_paints_and_paper(learnt, tmp_path: Path):
    table, path = learnt_reach(learnt, PAINTS), tmp_path / "reach.npz"
    mark = mark_of_reach(learnt, PAINTS, PLAIN_PAPER)
    write_reach(path, table, mark)
    kept = read_reach(path, mark)
    assert kept is not None
    assert np.array_equal(kept.bits, table.bits)
    assert read_reach(path, mark_of_reach(learnt, PAINTS[:3], PLAIN_PAPER)) is None
    assert read_reach(path, mark_of_reach(learnt, PAINTS, (90.0, 0.0, 0.0))) is None
    path.write_bytes(b"not a table")
    assert read_reach(path, mark) is None
