"""An order a painter would lay out: brights by hue, then earths, neutrals, blacks, whites, metallics.

Hue is read at mid strength, since the masstones of blues, violets and greens are near black. The strongest
chroma that a paint reaches parts brights, earths and neutrals before hue is looked at, so browns do not
scatter among the oranges; at mid strength every wash is pale, and a brown and an orange look alike in it.
The list opens between green and lemon yellow and runs yellow, orange, red, rose, violet, blue, turquoise,
green; red and rose meet where hue angles pass through 0.

This is a proposal. The painter's own order is never touched by it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import atan2, degrees, hypot
from typing import Literal

from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.index import GROUPS, pigment
from halfpan.core.paint.names import colour_words

Family = Literal[
    "yellow", "orange", "red", "rose", "violet", "blue", "turquoise", "green",
    "earth", "neutral", "black", "white", "metallic", "unplaced",
]  # fmt: skip
Basis = Literal["reading", "reading and pigment", "masstone only", "pigment group", "name", "unknown"]

FAMILIES: tuple[Family, ...] = (*GROUPS, "unplaced")
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
        return (FAMILIES.index(self.family), *self.within)


@dataclass(frozen=True, slots=True)
class _Seen:
    """The numbers the rule looks at."""

    mass_lightness: float
    mid_lightness: float
    strongest_chroma: float
    hue: float


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
    return tuple(sorted((place(one, used) for one in painted), key=lambda p: (*p.key, p.paint)))


def place(one: Painted, rule: OrderRule) -> Placed:
    """Return the family and the place within it of one paint."""
    group, source = _unread_family(one)
    swatch = one.swatch
    mid = (swatch.mid or swatch.masstone) if swatch else None
    if swatch is None or mid is None or group == "metallic":
        return Placed(one.paint.id, group, source, (1.0, 0.0))
    read = [lab for lab in (swatch.masstone, swatch.mid, swatch.tint, *swatch.path) if lab is not None]
    strongest = max(hypot(lab[1], lab[2]) for lab in read)  # one paint: plain numbers are quicker than arrays
    hue = degrees(atan2(mid[2], mid[1])) % 360
    seen = _Seen(float((swatch.masstone or mid)[0]), float(mid[0]), strongest, hue)
    family = _family(seen, rule)
    border = rule.border_hue * (1 if swatch.mid else 3)
    settled: Basis = "reading" if swatch.mid else "masstone only"
    if source == "pigment group" and group != family and group in _close_by(seen, rule, border):
        family, settled = group, "reading and pigment"
    return Placed(one.paint.id, family, settled, _within(family, seen, rule))


def _family(seen: _Seen, rule: OrderRule) -> Family:
    C, h = seen.strongest_chroma, seen.hue
    if seen.mass_lightness >= rule.white_lightness and rule.white_chroma > C:
        return "white"
    if rule.neutral_chroma > C:
        dark = seen.mass_lightness < rule.black_lightness and rule.black_chroma > C
        return "black" if dark else "neutral"
    first, last = rule.earth_hues
    base, slope, most = rule.earth_chroma
    limit = min(most, base + slope * (h - first))
    if first <= h <= last and limit > C and rule.earth_lightness > seen.mass_lightness:
        return "earth" if h < rule.olive_hue or seen.mid_lightness >= rule.olive_lightness else "green"
    if rule.olive_hue <= h <= rule.opens and rule.olive_lightness > seen.mid_lightness:
        return "green"
    passed = (rule.opens - h) % 360
    begins = [(rule.opens - hue) % 360 for hue in rule.hues]
    return GROUPS[bisect_right(begins, passed) - 1]


def _close_by(seen: _Seen, rule: OrderRule, border: float) -> set[Family]:
    """Return the families that a small change of hue or chroma would lead to."""
    C, h = seen.strongest_chroma, seen.hue
    return {
        _family(replace(seen, strongest_chroma=C * share, hue=(h + turn) % 360), rule)
        for turn in (-border, 0.0, border)
        for share in (1 - rule.border_chroma, 1.0, 1 + rule.border_chroma)
    }


def _within(family: Family, seen: _Seen, rule: OrderRule) -> tuple[float, float]:
    """Sort brights and earths by hue, the rest from light to dark; unread paints come after them all."""
    if family in {"neutral", "black", "white", "metallic"}:
        return (-1.0, -seen.mass_lightness)
    turn = (rule.opens - seen.hue) % 360
    middle = _middle(family, rule)
    return (-1.0 + (middle + (turn - middle + 180) % 360 - 180) / 360, -seen.mid_lightness)


def _middle(family: Family, rule: OrderRule) -> float:
    """Return the middle of a family on the wheel, in degrees from where the list opens."""
    if family == "earth":
        return (rule.opens - sum(rule.earth_hues) / 2) % 360
    begins = [*((rule.opens - hue) % 360 for hue in rule.hues), 360.0]
    at = FAMILIES.index(family)
    return (begins[at] + begins[at + 1]) / 2


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
