"""The hue ring of one's paints: where each stands at mid strength, how light it is, and where none stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.colour.spaces import lab_to_lch
from halfpan.core.paint.reading import Lab

GREYISH = 12.0  # C* at mid strength below which a hue says little: Halfpan's own threshold
WIDE = 30.0  # degrees without a paint that count as a gap, a twelfth of the ring


@dataclass(frozen=True, slots=True)
class OnRing:
    """A paint on the ring: hue and chroma at mid strength; L* of masstone and tint, if read."""

    paint: str
    hue: float
    chroma: float
    mid: Lab
    darkest: float | None
    lightest: float | None

    @property
    def greyish(self) -> bool:
        """Whether the colour is so grey that its hue says little."""
        return self.chroma < GREYISH


@dataclass(frozen=True, slots=True)
class RingGap:
    """A stretch of the ring, in degrees, where no paint stands, between ``after`` and ``before``."""

    start: float
    end: float
    after: str
    before: str

    @property
    def width(self) -> float:
        """How wide it is."""
        return (self.end - self.start) % 360 or 360.0


def on_ring(painted: Sequence[Painted]) -> tuple[OnRing, ...]:
    """Return the paints that were read at mid strength, by hue."""
    labs = colours(painted)
    found = []
    for one, (mass, mid, tint) in zip(painted, labs, strict=True):
        if np.isfinite(mid).all():
            _, chroma, hue = (float(v) for v in lab_to_lch(mid))
            found.append(
                OnRing(one.paint.id, hue, chroma, (float(mid[0]), float(mid[1]), float(mid[2])),
                       _known(mass[0]), _known(tint[0]))
            )  # fmt: skip
    return tuple(sorted(found, key=lambda one: (one.hue, one.paint)))


def ring_gaps(ring: Sequence[OnRing], *, wide: float = WIDE) -> tuple[RingGap, ...]:
    """Return the stretches where no paint but greyish ones stands, the widest first."""
    bright = [one for one in ring if not one.greyish]
    if not bright:
        return ()
    gaps = [
        RingGap(one.hue, after.hue, one.paint, after.paint)
        for one, after in zip(bright, [*bright[1:], bright[0]], strict=True)
        if len(bright) == 1 or one.hue != after.hue
    ]
    return tuple(sorted((gap for gap in gaps if gap.width >= wide), key=lambda gap: -gap.width))


def _known(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None
