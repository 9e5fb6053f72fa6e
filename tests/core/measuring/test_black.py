"""Even veils and crushed darks, told by the black line and the washes over it."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.measuring.black import even_veil
from halfpan.core.measuring.response import usual_prior, without_patches
from halfpan.core.measuring.veil import USUAL_INK
from halfpan.core.mixing.film import film_over

PUBLISHED = Path(__file__).parents[2] / "published" / "curtis1997_km.csv"
FAITHFUL = without_patches(usual_prior(), "paper")
INK = 0.05


def over(ground, own, through):
    """Light of a film over a ground, relative to paper of Y 1 (Kubelka 1948)."""
    return own + through**2 * ground / (1 - own * ground)


def washes(own=(0.004, 0.01, 0.03), through=(0.2, 0.3, 0.5, 0.7), ink=INK):
    """Light over paper and over the line of some washes, transparent ones among them."""
    films = np.array([(r, t) for r in own for t in through])
    return tuple(over(g, films[:, 0], films[:, 1])[:, None] * np.ones(3) for g in (1.0, ink))


def published_washes(thickness, ink=INK):
    """Twelve watercolours over paper and line, by their K and S (Curtis et al. 1997, Figure 5)."""
    with PUBLISHED.open() as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    K, S = (thickness * np.array([[float(r[f"{k}_{c}"]) for c in "RGB"] for r in rows]) for k in "KS")
    return film_over(K, S, 1.0), film_over(K, S, ink)


def told(even, *, doubt=0.012, ink=INK, films=None):
    """What is told of a sheet under an even veil (below nought: darks read too dark)."""
    paper, line = (light * (1 - even) + even for light in films or washes(ink=ink))
    bare = np.full((6, 3), ink * (1 - even) + even)
    noise = np.full(len(line), 0.003)
    return even_veil(FAITHFUL, bare, paper, line, doubt=np.full(6, doubt), noise=noise)


@given(
    own=st.floats(0, 0.6), through=st.floats(0, 0.99), dark=st.floats(0.005, 0.5), more=st.floats(0.01, 0.49)
)
def test_no_film_leaves_a_smaller_share_of_the_light_of_a_darker_ground(own, through, dark, more):
    """Kubelka, J. Opt. Soc. Am. 38, 448 (1948), equation for a film over a ground."""
    through = min(through, 1 - own)
    shares = [over(ground, own, through) / ground for ground in (dark, dark + more)]
    assert shares[0] >= shares[1] - 1e-12


@pytest.mark.parametrize("even", [-0.035, -0.025, -0.015])
def test_darks_that_were_read_too_dark_are_lifted_by_what_washes_over_the_line_cannot_be(even):
    assert told(even) == pytest.approx(even, abs=0.01)


@pytest.mark.parametrize("thickness", [0.5, 0.7, 1.0])
def test_published_washes_that_were_read_rightly_are_left_nearly_as_they_are(thickness):
    """K and S of twelve watercolours: Curtis et al. 1997, Figure 5."""
    assert told(0.0, films=published_washes(thickness)) == pytest.approx(0.0, abs=0.006)
    assert told(-0.03, films=published_washes(thickness)) == pytest.approx(-0.03, abs=0.012)


def test_washes_that_throw_back_nothing_at_all_are_credited_with_a_little():
    """The known weakness: what a wash throws back is taken as anything from nought up, equally likely."""
    assert -0.015 < told(0.0, films=washes(own=(0.0,))) < -0.002


def test_opaque_washes_say_nothing_and_usual_print_alone_weighs_in():
    hidden = washes(own=(0.3, 0.5), through=(0.05, 0.1))
    weight = 0.012**2 / (0.012**2 + 0.02**2)
    assert told(-0.03, films=hidden) == pytest.approx(weight * (INK - 0.03 - USUAL_INK), abs=0.003)


def test_a_line_that_is_known_well_is_not_moved_by_what_print_usually_is():
    hidden = washes(own=(0.3, 0.5), through=(0.05, 0.1), ink=0.08)
    assert told(0.0, ink=0.08, doubt=0.001, films=hidden) == pytest.approx(0.0, abs=1e-3)
    assert told(0.0, ink=0.08, doubt=0.02, films=hidden) > 0.01


def test_without_a_bare_line_nothing_is_told():
    paper, line = washes()
    nothing = np.empty((0, 3))
    assert even_veil(FAITHFUL, nothing, paper, line, doubt=np.empty(0), noise=np.zeros(len(line))) == 0.0


def test_without_washes_over_the_line_the_line_alone_is_heard():
    nothing = np.empty((0, 3))
    bare = np.full((4, 3), 0.1)
    alone = even_veil(FAITHFUL, bare, nothing, nothing, doubt=np.full(4, 0.02), noise=np.empty(0))
    assert 0.01 < alone < 0.05
