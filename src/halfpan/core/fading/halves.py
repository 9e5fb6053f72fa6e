"""The half kept covered against the half in light: how far they are apart by light alone, and which way.

Both halves are read in one photo of one wash, so most of what is in doubt about a colour (the light of the
photo, the camera) moves both alike and falls out of their difference. What two halves of a wash differ by
before any light fell is taken off where they were read then. The figures of doubt below come from the virtual
painter, ``docs/science/fading.md`` says how often they hold.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import delta_e_76, delta_e_2000, metric_2000
from halfpan.core.paint.reading import Lab, Reading

Array = NDArray[np.float64]

APART = 0.5
"""Doubt of a difference of two like colours in one photo, CIEDE2000, however good the photo."""

BY_DISTANCE = 0.06
"""By how much the doubt of a difference grows with it, for each unit of the readings' own radius: what is in
doubt about the light and the camera moves unlike colours differently."""

UNEVEN = 1.1
"""How far two halves of one wash are apart before any light, CIEDE2000; where that was not read."""

BEYOND, SWALLOWED = "beyond what the picture can hold", 2.0
"""A flag of readings, and how many times wider the doubt is where a half bears it: part of a change
may be lost beyond the end of what the picture holds."""

ONE_WAY = 0.70
"""From a radius that holds 95 in 100 in three directions to a half width that does in one: 1.96 / 2.80."""


@dataclass(frozen=True, slots=True)
class Halves:
    """Two readings of one wash in one photo."""

    kept: Reading
    exposed: Reading


@dataclass(frozen=True, slots=True)
class Fading:
    """What light changed in a wash: in dE*ab and in CIEDE2000, each with its 95 % half width.

    ``shift`` is the change in L*, a*, b*. ``from_start`` says that the halves were read before they were
    exposed, and what they differed by then was taken off.
    """

    delta_e_ab: float
    within_ab: float
    delta_e_00: float
    within_00: float
    shift: Lab
    from_start: bool

    @property
    def sure(self) -> bool:
        """Whether there is a change at all."""
        return self.delta_e_ab > self.within_ab

    @property
    def least(self) -> float:
        """The smallest change that the doubt allows, dE*ab."""
        return max(0.0, self.delta_e_ab - self.within_ab)

    @property
    def most(self) -> float:
        """The largest change that the doubt allows, dE*ab."""
        return self.delta_e_ab + self.within_ab


@lru_cache(maxsize=8192)
def fading(now: Halves, start: Halves | None = None) -> Fading:
    """Return what light changed between two halves of a wash.

    Parameters
    ----------
    now : the halves after some days
    start : the halves before they were exposed, where they were read
    """
    kept, exposed = np.array(now.kept.lab), np.array(now.exposed.lab)
    if start is not None:
        exposed = exposed - (np.array(start.exposed.lab) - np.array(start.kept.lab))
    shift = exposed - kept
    apart_00 = float(delta_e_2000(exposed, kept))
    radius = (now.kept.within_delta_e00 + now.exposed.within_delta_e00) / 2
    uneven = 0.0 if start is not None else UNEVEN
    widened = SWALLOWED if BEYOND in (*now.kept.flags, *now.exposed.flags) else 1.0
    within = widened * ONE_WAY * float(np.sqrt(APART**2 + uneven**2 + (BY_DISTANCE * radius * apart_00) ** 2))
    return Fading(
        delta_e_ab=float(delta_e_76(exposed, kept)),
        within_ab=_along(shift, (kept + exposed) / 2, within),
        delta_e_00=apart_00,
        within_00=within,
        shift=(float(shift[0]), float(shift[1]), float(shift[2])),
        from_start=start is not None,
    )


def _along(shift: Array, at: Array, within: float) -> float:
    """Return how far a half width in CIEDE2000 reaches in dE*ab, along a shift from a colour."""
    back = np.linalg.inv(metric_2000(at))
    length = float(np.linalg.norm(shift))
    if length < 1e-6:
        return within * float(np.linalg.norm(back, ord=2))
    return within * float(np.linalg.norm(back.T @ (shift / length)))


def which_way(change: Fading, kept: Lab) -> tuple[str, ...]:
    """Return in words how the colour in light differs from the one kept; nothing when no change is sure.

    A word needs its part of the change to be over half of the doubt and over a quarter of the change.

    Parameters
    ----------
    change : Fading
    kept : Lab of the covered half
    """
    if not change.sure:
        return ()
    lightness, redness, yellowness = change.shift
    before = float(np.hypot(kept[1], kept[2]))
    chroma = float(np.hypot(kept[1] + redness, kept[2] + yellowness)) - before
    least = max(change.within_ab / 2, change.delta_e_ab / 4)
    turned_red, turned_yellow = _turned(kept, redness, yellowness)
    told = (
        (lightness, "paler", "darker"),
        (chroma, "stronger in colour", "greyer"),
        (turned_red, "redder", "greener"),
        (turned_yellow, "yellower", "bluer"),
    )
    return tuple((more if by > 0 else less) for by, more, less in told if abs(by) >= least)


def _turned(kept: Lab, redness: float, yellowness: float) -> tuple[float, float]:
    """Return what is left of a shift in a* and b* when its way to or from grey is taken out."""
    out = np.array([kept[1], kept[2]])
    size = float(np.linalg.norm(out))
    shift = np.array([redness, yellowness])
    if size < 1e-6:
        return redness, yellowness
    along = out / size
    rest = shift - along * float(shift @ along)
    return float(rest[0]), float(rest[1])
