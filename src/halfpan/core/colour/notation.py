"""Colours in words and in Munsell notation.

Munsell is read by linear interpolation over the renotation table in Lab (ASTM D1535), not by iteration.
The table is for illuminant C, 2 degrees; it is adapted to D50 by Bradford on the way in.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.interpolate import LinearNDInterpolator

from halfpan.core.colour.spaces import D50, C, adapt_xyz, lab_to_lch, xyz_to_lab

Array = NDArray[np.float64]

_FAMILIES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
_MAGNESIUM_OXIDE = 0.975
_GREY_CHROMA = 0.3
_NOTATION = re.compile(
    r"(?:N\s*(\d+(?:\.\d+)?)/?|(\d+(?:\.\d+)?)(R|YR|Y|GY|G|BG|B|PB|P|RP)\s+(\d+(?:\.\d+)?)/(\d+(?:\.\d+)?))"
)


@dataclass(frozen=True, slots=True)
class Munsell:
    """A colour in Munsell terms: hue 0-100 (5R is 5, 5YR 15 ...), value 0-10, chroma; a grey has hue None."""

    hue: float | None
    value: float
    chroma: float

    @property
    def text(self) -> str:
        """The usual notation, ``5.0R 4.0/14.0`` or ``N 5.0/``."""
        if self.hue is None:
            return f"N {self.value:.1f}/"
        tenth = round(self.hue % 100, 1) % 100
        family, step = int(tenth // 10), tenth % 10
        if step == 0:
            family, step = family - 1, 10.0
        return f"{step:.1f}{_FAMILIES[family % 10]} {self.value:.1f}/{self.chroma:.1f}"


def _hue_number(step: float, family: str) -> float:
    return (_FAMILIES.index(family) * 10 + step) % 100


def value_to_luminance(value: ArrayLike) -> Array:
    """Return Y 0-1 of a Munsell value 0-10 (ASTM D1535, perfect-diffuser scale)."""
    V = np.asarray(value, dtype=float)
    return V * (1.1914 + V * (-0.22533 + V * (0.23352 + V * (-0.020484 + V * 0.00081939)))) / 100


@cache
def _chips() -> tuple[Array, Array]:
    """Return the Lab (D50) and the (hue, value, chroma) of every chip, greys included."""
    text = files("halfpan.data").joinpath("munsell_renotation.csv").read_text(encoding="utf-8")
    rows = [line.split(",") for line in text.splitlines()[2:]]
    split = [re.fullmatch(r"([\d.]+)([A-Z]+)", row[0]) for row in rows]
    hues = np.array([_hue_number(float(m[1]), m[2]) for m in split if m])
    value, chroma, x, y, luminance = np.array([row[1:] for row in rows], dtype=float).T
    luminance = luminance * _MAGNESIUM_OXIDE / 100
    xyz = np.stack([x / y * luminance, luminance, (1 - x - y) / y * luminance], axis=-1)
    greys = np.unique(np.append(value, (0.0, 10.0)))
    xyz = np.vstack([xyz, value_to_luminance(greys)[:, None] * C])
    lab = xyz_to_lab(adapt_xyz(xyz, C, D50))
    nought = np.zeros_like(greys)
    chips = np.column_stack(
        [np.append(hues, nought), np.append(value, greys), np.append(chroma, nought)],
    )
    return lab, chips


@cache
def _reader() -> LinearNDInterpolator:
    """Return the interpolator from Lab to (chroma cos hue, chroma sin hue, value)."""
    lab, chips = _chips()
    turn = chips[:, 0] * (2 * np.pi / 100)
    vectors = np.column_stack([chips[:, 2] * np.cos(turn), chips[:, 2] * np.sin(turn), chips[:, 1]])
    return LinearNDInterpolator(lab, vectors)


def lab_to_munsell(lab: ArrayLike) -> Munsell | None:
    """Return the Munsell notation of one colour, or none where the renotation does not reach.

    Parameters
    ----------
    lab : array, shape (3,), CIELAB, D50, 2 degrees
    """
    x, y, value = _reader()(np.asarray(lab, dtype=float))[0]
    if not np.isfinite(value):
        return None
    chroma = float(np.hypot(x, y))
    if chroma < _GREY_CHROMA:
        return Munsell(None, float(value), 0.0)
    return Munsell(float(np.degrees(np.arctan2(y, x)) / 3.6 % 100), float(value), chroma)


@cache
def _writer() -> LinearNDInterpolator:
    lab, chips = _chips()
    turn = chips[:, 0] * (2 * np.pi / 100)
    return LinearNDInterpolator(
        np.column_stack([chips[:, 2] * np.cos(turn), chips[:, 2] * np.sin(turn), chips[:, 1]]),
        lab,
        rescale=True,
    )


def munsell_to_lab(text: str) -> Array:
    """Return D50 CIELAB, shape (3,), of a notation such as ``5R 4/14`` or ``N 5/``.

    Raises
    ------
    ValueError
        If the text is not Munsell notation or lies beyond the renotation.
    """
    match = _NOTATION.fullmatch(text.strip())
    if not match:
        raise ValueError(f"{text!r} is not Munsell notation such as 5R 4/14 or N 5/")
    if match[1] is not None:
        hue, value, chroma = 0.0, float(match[1]), 0.0
    else:
        hue = _hue_number(float(match[2]), match[3])
        value, chroma = float(match[4]), float(match[5])
    turn = hue * 2 * np.pi / 100
    lab: Array = _writer()(np.array([chroma * np.cos(turn), chroma * np.sin(turn), value]))[0]
    if not np.all(np.isfinite(lab)):
        raise ValueError(f"{text!r} lies beyond the Munsell renotation")
    return lab


_HUES = (
    (20.0, "rose red"),
    (45.0, "red"),
    (65.0, "orange"),
    (82.0, "warm yellow"),
    (105.0, "yellow"),
    (130.0, "yellow green"),
    (170.0, "green"),
    (200.0, "blue green"),
    (240.0, "turquoise"),
    (290.0, "blue"),
    (315.0, "violet"),
    (345.0, "magenta"),
    (360.0, "rose"),
)


def hue_words(lab: ArrayLike) -> str:
    """Return plain words for one colour, such as "dark dull green".

    The bounds of the words (hue angle, L* under 35 dark and over 75 pale, C* under 8 grey and under 25 dull)
    are Halfpan's own.
    """
    L, chroma, hue = lab_to_lch(lab)
    depth = "dark " if L < 35 else "pale " if L > 75 else ""
    if chroma < 8:
        return "near black" if L < 25 else "near white" if L > 90 else f"{depth}grey"
    name = next(word for bound, word in _HUES if hue <= bound)
    return f"{depth}{'dull ' if chroma < 25 else ''}{name}"


_DIRECTIONS = (
    (22.5, "red"),
    (67.5, "orange"),
    (112.5, "yellow"),
    (157.5, "green"),
    (202.5, "blue-green"),
    (247.5, "blue"),
    (292.5, "blue"),
    (337.5, "violet"),
    (360.1, "red"),
)


def leans(lab: ArrayLike, reference: ArrayLike, *, least: float = 1.0) -> str | None:
    """Return which way a colour leans beside another, such as "leans green", or none.

    Only the sideways step in the a*, b* plane counts; ``least`` is the dE*ab below which nothing is said.
    """
    step = np.asarray(lab, dtype=float)[1:] - np.asarray(reference, dtype=float)[1:]
    if np.hypot(*step) < least:
        return None
    angle = np.degrees(np.arctan2(step[1], step[0])) % 360
    return "leans " + next(word for bound, word in _DIRECTIONS if angle <= bound)
