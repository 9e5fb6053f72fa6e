"""What was read against what is true, box by box."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import outside_srgb
from halfpan.core.paint.reading import Lab
from halfpan.demo.fill import ReadBack


@dataclass(frozen=True, slots=True)
class Compared:
    """One masstone read: the reading with its 95 % radius, the truth, and how far they lie apart (CIEDE2000).

    ``in_range`` says whether the true colour is one that an sRGB picture can hold.
    """

    box: str
    paint: str | None
    lab: Lab
    within: float
    true_lab: Lab
    apart: float
    in_range: bool

    @property
    def held(self) -> bool:
        """Whether the truth lies inside the stated radius."""
        return self.apart <= self.within


@dataclass(frozen=True, slots=True)
class Score:
    """How well one picture was read.

    Distances (CIEDE2000) and ``held``, how many truths lie inside the stated radius, are over the
    ``in_range`` boxes whose colour an sRGB picture can hold.
    """

    how: str
    name: str
    tier: str
    boxes: int
    in_range: int
    median: float
    ninth: float
    held: int
    radius: float
    unread: int
    wrong: int


def compare(back: ReadBack) -> tuple[Compared, ...]:
    """Return every masstone of one picture beside the truth."""
    found = []
    for kept in back.read.readings:
        one = kept.reading
        truth = back.taken.truth.zone(one.box, "masstone")
        if one.zone != "masstone" or truth is None or truth.load == 0:
            continue
        true = (float(truth.lab[0]), float(truth.lab[1]), float(truth.lab[2]))
        apart = float(delta_e_2000(np.array(one.lab), truth.lab))
        inside = bool(outside_srgb(truth.lab) == 0)
        found.append(Compared(one.box, one.paint, one.lab, one.within_delta_e00, true, apart, inside))
    return tuple(found)


def score(back: ReadBack, compared: Sequence[Compared]) -> Score:
    """Return how well one picture was read as a whole."""
    inside = [one for one in compared if one.in_range]
    apart = np.array([one.apart for one in inside] or [np.nan])
    painted = {b.box: b.paint for b in back.taken.truth.boxes if b.film is not None}
    read = {one.box for one in compared}
    return Score(
        how=back.taken.how,
        name=back.taken.path.name,
        tier=back.read.light.tier,
        boxes=len(compared),
        in_range=len(inside),
        median=float(np.median(apart)),
        ninth=float(np.quantile(apart, 0.9)),
        held=sum(one.held for one in inside),
        radius=float(np.median([one.within for one in inside] or [np.nan])),
        unread=len(painted.keys() - read),
        wrong=sum(one.paint != painted.get(one.box, one.paint) for one in compared),
    )
