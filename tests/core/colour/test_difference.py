"""CIEDE2000: Sharma, Wu, Dalal, Color Res. Appl. 30(1), 2005, Table 1; colour-science, coloraide."""

from __future__ import annotations

import csv
import warnings
from pathlib import Path

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from halfpan.core.colour.difference import delta_e_76, delta_e_2000, delta_e_2000_pairs, metric_2000

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

TABLE = Path(__file__).parents[2] / "published" / "ciede2000_34.csv"
ROWS = [
    {k: float(v) for k, v in row.items()}
    for row in csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())
]
LAB = arrays(float, (6, 3), elements=st.floats(-100, 100)).map(
    lambda a: np.column_stack([np.abs(a[:, 0]), a[:, 1:]])
)


def random_lab(n, seed):
    rng = np.random.default_rng(seed)
    return np.column_stack([rng.uniform(0, 100, n), rng.uniform(-90, 90, (n, 2))])


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(int(row["pair"])))
def test_published_pair_comes_out_to_four_digits_both_ways(row):
    first = (row["L1"], row["a1"], row["b1"])
    second = (row["L2"], row["a2"], row["b2"])
    assert delta_e_2000(first, second) == pytest.approx(row["dE00"], abs=1e-4)
    assert delta_e_2000(second, first) == pytest.approx(row["dE00"], abs=1e-4)
    assert delta_e_2000_pairs([first, second])[0, 1] == pytest.approx(row["dE00"], abs=1e-4)
    assert delta_e_76(first, second) == pytest.approx(row["dE76"], abs=1e-4)


def test_colour_science_agrees_on_ten_thousand_pairs():
    first, second = random_lab(10_000, 3), random_lab(10_000, 4)
    np.testing.assert_allclose(
        delta_e_2000(first, second), colour.difference.delta_E_CIE2000(first, second), atol=1e-9
    )


def test_coloraide_agrees_on_a_thousand_pairs():
    for first, second in zip(random_lab(1000, 5), random_lab(1000, 6), strict=True):
        oracle = Color("lab-d65", first).delta_e(Color("lab-d65", second), method="2000")
        assert delta_e_2000(first, second) == pytest.approx(oracle, abs=1e-6)


def test_all_pairs_are_the_single_pairs():
    lab = np.vstack([random_lab(300, 7), [[50, 0, 0], [50, 0, 0], [50, 10, 0], [50, -10, 0]]])
    expected = delta_e_2000(lab[:, None], lab[None])
    np.testing.assert_allclose(delta_e_2000_pairs(lab), expected, atol=5e-5)


@given(LAB)
def test_difference_is_symmetric_and_nought_on_itself(lab):
    pairs = delta_e_2000(lab[:, None], lab[None])
    assert np.all(np.diag(pairs) == 0)
    np.testing.assert_allclose(pairs, pairs.T, atol=2e-3)


def test_local_metric_measures_small_steps():
    lab = random_lab(2000, 8)
    step = np.random.default_rng(9).normal(0, 0.005, lab.shape)
    length = np.linalg.norm(np.einsum("nij,nj->ni", metric_2000(lab), step), axis=-1)
    np.testing.assert_allclose(length, delta_e_2000(lab + step, lab), rtol=2e-3)
