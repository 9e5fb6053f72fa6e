"""Part paints over two tins, or two sides of one, by a rule of the painter's own.

"Warm" and "cool" are the painter's words: there is no agreed boundary, so the rule is two hue angles with
names, shown and movable. A grey or an earth is placed by the way it leans, and said to be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.colour.spaces import lab_to_lch

Basis = Literal["your own tag", "hue at mid strength", "the way it leans", "no reading"]


@dataclass(frozen=True, slots=True)
class SideRule:
    """From ``start`` round through 0 to ``end`` (hue angles, degrees) lies the first side.

    The defaults put yellow, orange, red and rose on the first side: a starting value to be moved, with no
    source. Below ``grey`` (C*) a colour only leans; below ``none`` it leans nowhere.
    """

    first: str = "warm"
    second: str = "cool"
    start: float = 350.0
    end: float = 100.0
    grey: float = 12.0
    none: float = 1.5


@dataclass(frozen=True, slots=True)
class Sided:
    """Which side a paint is proposed for (none: undecided), by its hue angle, and what that rests on.

    ``from_boundary`` is how many degrees lie between the hue and the nearer boundary: small means doubtful.
    """

    paint: str
    side: str | None
    basis: Basis
    hue: float | None = None
    from_boundary: float | None = None


def propose_sides(
    painted: Sequence[Painted], rule: SideRule | None = None, tags: Mapping[str, str] | None = None
) -> tuple[Sided, ...]:
    """Propose a side for each paint; ``tags`` (paint id to side) are the painter's own and always hold."""
    used = rule or SideRule()
    own = tags or {}
    mids = colours(painted)[:, 1]
    return tuple(
        Sided(one.paint.id, own[one.paint.id], "your own tag")
        if one.paint.id in own
        else _sided(one.paint.id, mid, used)
        for one, mid in zip(painted, mids, strict=True)
    )


def _sided(paint: str, mid: np.ndarray, rule: SideRule) -> Sided:
    if not np.isfinite(mid).all():
        return Sided(paint, None, "no reading")
    _, chroma, hue = (float(v) for v in lab_to_lch(mid))
    away = min(_between(hue, rule.start), _between(hue, rule.end))
    basis: Basis = "the way it leans" if chroma < rule.grey else "hue at mid strength"
    if chroma < rule.none:
        return Sided(paint, None, basis, hue, away)
    inside = (hue - rule.start) % 360 <= (rule.end - rule.start) % 360
    return Sided(paint, rule.first if inside else rule.second, basis, hue, away)


def _between(hue: float, other: float) -> float:
    return abs((hue - other + 180) % 360 - 180)
