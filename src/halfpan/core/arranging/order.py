"""An order a painter would lay out: brights by hue, then earths, neutrals, blacks, whites, metallics.

Hue is read at mid strength, since the masstones of blues, violets and greens are near black. The strongest
chroma that a paint reaches parts brights, earths and neutrals before hue is looked at, so browns do not
scatter among the oranges; at mid strength every wash is pale, and a brown and an orange look alike in it.
The list opens between green and lemon yellow and runs yellow, orange, red, rose, violet, blue, turquoise,
green; red and rose meet where hue angles pass through 0.

This is a proposal. The painter's own order is never touched by it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.index import GROUPS, pigment
from halfpan.core.paint.names import colour_words
from halfpan.core.paint.reading import Swatch

Array = NDArray[np.float64]

Family = Literal[
    "yellow", "orange", "red", "rose", "violet", "blue", "turquoise", "green",
    "earth", "neutral", "black", "white", "metallic", "unplaced",
]  # fmt: skip
Basis = Literal["reading", "reading and pigment", "masstone only", "pigment group", "name", "unknown"]

FAMILIES: tuple[Family, ...] = (*GROUPS, "unplaced")
_AT: Mapping[Family, int] = {family: at for at, family in enumerate(FAMILIES)}
FAMILY_WORDS: Mapping[Family, str] = {
    "yellow": "yellows", "orange": "oranges", "red": "reds", "rose": "roses and magentas",
    "violet": "violets", "blue": "blues", "turquoise": "turquoises", "green": "greens", "earth": "earths",
    "neutral": "greys", "black": "blacks", "white": "whites", "metallic": "metallics",
    "unplaced": "not placed yet",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class OrderRule:
    """The thresholds of the order, to be turned as you like. Angles in degrees, CIELAB D50.

    Starting values by trial on invented paints; there is no published standard. ``hues`` are where yellow,
    orange, red, rose, violet, blue, turquoise and green begin at mid strength, going down from ``opens``.
    Chromas are the strongest of all strengths, lightnesses those of the masstone, but for ``olive_lightness``
    (mid). An earth's chroma lies under ``earth_chroma``: a base at the first of ``earth_hues``, a slope per
    degree, and a ceiling. A colour whose hue lies within ``border_hue`` or whose chroma lies within the share
    ``border_chroma`` of another family goes where its single pigment belongs; with a masstone only, hues
    count three times less.
    """

    opens: float = 108.0
    hues: tuple[float, ...] = (108.0, 62.0, 32.0, 347.0, 330.0, 281.0, 225.0, 195.0)
    neutral_chroma: float = 14.0
    black_chroma: float = 8.0
    black_lightness: float = 36.0
    white_lightness: float = 87.0
    white_chroma: float = 12.0
    earth_hues: tuple[float, float] = (18.0, 90.0)
    earth_chroma: tuple[float, float, float] = (50.0, 0.5, 82.0)
    earth_lightness: float = 78.0
    olive_hue: float = 85.0
    olive_lightness: float = 80.0
    border_hue: float = 5.0
    border_chroma: float = 0.15


@dataclass(frozen=True, slots=True)
class Placed:
    """Where one paint stands: its family, what that rests on, and its place within the family."""

    paint: str
    family: Family
    basis: Basis
    within: tuple[float, float]

    @property
    def key(self) -> tuple[int, float, float]:
        """What the list is sorted by."""
        return (_AT[self.family], *self.within)


@dataclass(frozen=True, slots=True, eq=False)
class _Seen:
    """The numbers the rule looks at, of many paints; shapes broadcast against each other."""

    mass_lightness: Array
    mid_lightness: Array
    strongest_chroma: Array
    hue: Array


def in_order(painted: Sequence[Painted], rule: OrderRule | None = None) -> tuple[Placed, ...]:
    """Return the paints in the proposed order.

    Parameters
    ----------
    painted : sequence of Painted
    rule : OrderRule, optional
        Stated thresholds; their defaults when none is given.

    Returns
    -------
    tuple of Placed
        Paints without readings stand at the end of their family, by pigment group or by name, and say so.
    """
    used = rule or OrderRule()
    return tuple(sorted(places(list(painted), used), key=lambda p: (*p.key, p.paint)))


def place(one: Painted, rule: OrderRule) -> Placed:
    """Return the family and the place within it of one paint."""
    return places([one], rule)[0]


def places(painted: Sequence[Painted], rule: OrderRule) -> list[Placed]:
    """Return the family and the place within it of each of some paints, in the order they came."""
    unread = [_unread_family(one) for one in painted]
    found = [
        Placed(one.paint.id, group, source, (1.0, 0.0))
        for one, (group, source) in zip(painted, unread, strict=True)
    ]
    read = [
        (at, one.swatch)
        for at, one in enumerate(painted)
        if one.swatch and (one.swatch.mid or one.swatch.masstone) and unread[at][0] != "metallic"
    ]
    if not read:
        return found
    seen = _seen([swatch for _, swatch in read])
    at_mid = np.array([swatch.mid is not None for _, swatch in read])
    known = np.array([_AT[g] if s == "pigment group" else -1 for g, s in (unread[at] for at, _ in read)])
    by_colour = _families(seen, rule)
    borders = np.flatnonzero((known >= 0) & (known != by_colour))
    helped = np.zeros(len(read), dtype=bool)
    near = _close_by(seen, borders, rule, np.where(at_mid[borders], 1.0, 3.0) * rule.border_hue)
    helped[borders] = (near == known[borders, None]).any(axis=1)
    kinds = np.where(helped, known, by_colour)
    within = _within(kinds, seen, rule)
    for (at, _), kind, mid, border, turn in zip(read, kinds, at_mid, helped, within.tolist(), strict=True):
        told: Basis = "reading and pigment" if border else "reading" if mid else "masstone only"
        found[at] = Placed(painted[at].paint.id, FAMILIES[kind], told, (turn[0], turn[1]))
    return found


def _seen(swatches: Sequence[Swatch]) -> _Seen:
    mass = np.array([swatch.masstone or swatch.mid for swatch in swatches], dtype=float)
    mid = np.array([swatch.mid or swatch.masstone for swatch in swatches], dtype=float)
    reads = [(swatch.masstone, swatch.mid, swatch.tint, *swatch.path) for swatch in swatches]
    squares = [max([lab[1] ** 2 + lab[2] ** 2 for lab in labs if lab is not None]) for labs in reads]
    hue = np.degrees(np.arctan2(mid[:, 2], mid[:, 1])) % 360
    return _Seen(mass[:, 0], mid[:, 0], np.sqrt(squares), hue)


def _families(seen: _Seen, rule: OrderRule) -> NDArray[np.intp]:
    """Return the number of each colour's family in `FAMILIES`."""
    L, C, h = seen.mass_lightness, seen.strongest_chroma, seen.hue
    white = (rule.white_lightness <= L) & (rule.white_chroma > C)
    grey = rule.neutral_chroma > C
    black = grey & (rule.black_lightness > L) & (rule.black_chroma > C)
    first, last = rule.earth_hues
    base, slope, most = rule.earth_chroma
    limit = np.minimum(most, base + slope * (h - first))
    brown = (first <= h) & (h <= last) & (limit > C) & (rule.earth_lightness > L)
    deep = rule.olive_lightness > seen.mid_lightness
    olive = (rule.olive_hue <= h) & (h <= rule.opens) & deep
    green = np.where(brown, (rule.olive_hue <= h) & deep, olive)
    wheel = np.searchsorted(_begins(rule), (rule.opens - h) % 360, side="right") - 1
    cases: list[tuple[Family, NDArray[np.bool_]]] = [
        ("white", white), ("black", black), ("neutral", grey), ("green", green), ("earth", brown),
    ]  # fmt: skip
    numbers = [np.array(_AT[family], dtype=np.intp) for family, _ in cases]
    return np.select([case for _, case in cases], numbers, wheel)


def _close_by(seen: _Seen, which: NDArray[np.intp], rule: OrderRule, border: Array) -> NDArray[np.intp]:
    """Return the families that a small change of hue or chroma would lead some paints to, shape (n, 9)."""
    turn = border[:, None, None] * np.array([[-1.0], [0.0], [1.0]])
    share = 1 + rule.border_chroma * np.array([-1.0, 0.0, 1.0])
    L, mid, C, h = (
        values[which, None, None]
        for values in (seen.mass_lightness, seen.mid_lightness, seen.strongest_chroma, seen.hue)
    )
    moved = np.broadcast_arrays(L, mid, C * share, (h + turn) % 360)
    return _families(_Seen(*moved), rule).reshape(len(which), 9)


def _within(kinds: NDArray[np.intp], seen: _Seen, rule: OrderRule) -> Array:
    """Sort brights and earths by hue, the rest from light to dark; unread paints come after them all."""
    begins = np.append(_begins(rule), 360.0)
    middles = np.zeros(len(FAMILIES))
    middles[: len(begins) - 1] = (begins[:-1] + begins[1:]) / 2
    middles[_AT["earth"]] = (rule.opens - sum(rule.earth_hues) / 2) % 360
    middle = middles[kinds]
    turn = (rule.opens - seen.hue) % 360
    by_hue = -1.0 + (middle + (turn - middle + 180) % 360 - 180) / 360
    shades = np.isin(kinds, [_AT[family] for family in ("neutral", "black", "white", "metallic")])
    first, second = (
        np.where(shades, -1.0, by_hue),
        np.where(shades, -seen.mass_lightness, -seen.mid_lightness),
    )
    return np.stack([first, second], axis=1)


def _begins(rule: OrderRule) -> Array:
    """Return where the families of the wheel begin, in degrees from where the list opens."""
    return (rule.opens - np.array(rule.hues)) % 360


def _unread_family(one: Painted) -> tuple[Family, Basis]:
    """Return the family that codes or name give, and which of the two it was."""
    known = [pigment(code) for code in one.paint.codes]
    groups: set[Family] = {found.group for found in known if found}
    coloured = groups - {"white"} or groups
    if len(coloured) == 1 and all(known):
        return coloured.pop(), "pigment group"
    if len(known) != 1 or not all(known):
        words = colour_words(one.paint.name)
        if words:
            return words[-1], "name"
    return "unplaced", "unknown"
