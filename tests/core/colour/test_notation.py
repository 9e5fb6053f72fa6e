"""Munsell: ASTM D1535 and the 1943 renotation; colour-science's iterative converter as oracle."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.notation import (
    Munsell,
    hue_words,
    lab_to_munsell,
    leans,
    munsell_to_lab,
    value_to_luminance,
)
from halfpan.core.colour.spaces import D50, C, adapt_xyz, xyz_to_lab

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour


def chip(x, y, luminance):
    xyz = np.array([x / y, 1, (1 - x - y) / y]) * luminance
    return xyz_to_lab(adapt_xyz(xyz, C, D50))


CHIPS = [
    ("5R 4/14", (0.5734, 0.3057, 0.11701)),
    ("5Y 8/12", (0.4562, 0.4788, 0.57620)),
    ("5B 5/8", (0.1958, 0.2519, 0.19272)),
    ("10PB 3/10", (0.2278, 0.1565, 0.06391)),
    ("5GY 6/8", (0.3772, 0.4880, 0.29301)),
    ("2.5YR 5/12", (0.5482, 0.3909, 0.19272)),
    ("N 5/", (0.31006, 0.31616, 0.19272)),
]


@pytest.mark.parametrize(("value", "luminance"), [(1, 1.17993), (5, 19.27184), (8, 57.61963), (10, 100.0)])
def test_value_gives_the_published_luminance(value, luminance):
    assert value_to_luminance(value) * 100 == pytest.approx(luminance, abs=2e-3)


@pytest.mark.parametrize(("text", "xyy"), CHIPS)
def test_a_chip_of_the_renotation_is_read_as_itself(text, xyy):
    assert delta_e_2000(munsell_to_lab(text), chip(*xyy)) < 0.1
    found = lab_to_munsell(chip(*xyy))
    assert found is not None
    assert delta_e_2000(munsell_to_lab(found.text), chip(*xyy)) < 0.6


def test_the_iterative_converter_agrees_between_chips():
    """Linear against iterated interpolation: within 0.6 hue steps, 0.06 value and 0.3 chroma (measured)."""
    for text in ("6.3R 4.4/9", "3.1Y 7.3/7", "7.7B 4.6/6", "8.8GY 5.5/7"):
        xyy = colour.notation.munsell_colour_to_xyY(text)
        found = lab_to_munsell(chip(*xyy))
        assert found is not None
        step, family, value, chroma = _parts(text)
        assert found.text.split()[0].endswith(family)
        assert abs(found.hue % 10 - step) < 0.6
        assert abs(found.value - value) < 0.06
        assert abs(found.chroma - chroma) < 0.3


def _parts(text):
    hue, rest = text.split()
    letters = hue.lstrip("0123456789.")
    value, chroma = rest.split("/")
    return float(hue.removesuffix(letters)), letters, float(value), float(chroma)


def test_hue_wraps_between_red_purple_and_red():
    assert Munsell(0.0, 5, 5).text == "10.0RP 5.0/5.0"
    assert Munsell(99.99, 5, 5).text == "10.0RP 5.0/5.0"
    assert Munsell(10.0, 5, 5).text == "10.0R 5.0/5.0"


def test_beyond_the_renotation_is_unknown():
    assert lab_to_munsell((50, 150, 150)) is None


@pytest.mark.parametrize("text", ["5R", "5Q 4/2", "", "5R 4/60"])
def test_what_is_no_notation_is_refused(text):
    with pytest.raises(ValueError, match="Munsell"):
        munsell_to_lab(text)


def test_words_are_plain():
    assert hue_words((30, -30, 15)) == "dark green"
    assert hue_words((50, 0, 0)) == "grey"
    assert leans((50, 5, -40), (50, 5, -30)) == "leans blue"
    assert leans((50, -4, 0), (50, 4, 0)) == "leans blue-green"
    assert leans((50, 0, 0), (50, 0.2, 0)) is None
