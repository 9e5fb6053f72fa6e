"""A reading: what a camera, scanner or instrument saw in one zone of one painted box, and its doubt.

Colours are CIELAB, D50, 2 degree observer. ``within_delta_e00`` is always a 95 % radius in CIEDE2000.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Lab = tuple[float, float, float]
Tier = Literal["instrument", "target", "known paints", "paper", "none"]
State = Literal["to review", "accepted", "set aside"]


@dataclass(frozen=True, slots=True)
class Reading:
    """One zone read: value, 95 % radius, spread of the pixels, how many, and flags."""

    box: str
    paint: str | None
    zone: str
    lab: Lab
    within_delta_e00: float
    tier: Tier
    flags: tuple[str, ...] = ()
    spread: float | None = None
    count: int = 0
    state: State = "to review"


@dataclass(frozen=True, slots=True)
class Unread:
    """A box that could not be read, and why, in one plain sentence."""

    box: str
    reason: str


@dataclass(frozen=True, slots=True)
class Swatch:
    """What one painted box tells about its paint, from masstone to tint. Half widths are 95 %.

    ``None`` means untested or unknown. ``contrast_ratio`` is Y over the black line / Y over paper
    (ISO 6504-3's form); ``transparency`` is Halfpan's own word for it. ``path`` are the colours of the
    graded stroke from strong to thin. ``unevenness`` and ``edge`` are differences of ln luminance, over the
    wash and from its middle to its rim; ``separation`` is a share, 0-1, of colour that parts from lightness.
    """

    box: str
    paint: str | None
    name: str
    masstone: Lab | None = None
    mid: Lab | None = None
    tint: Lab | None = None
    within_delta_e00: float | None = None
    value_range: float | None = None
    value_range_within: float | None = None
    contrast_ratio: float | None = None
    contrast_ratio_within: float | None = None
    transparency: str | None = None
    granulation: float | None = None
    granulation_up_to: float | None = None
    granulation_within: float | None = None
    unevenness: float | None = None
    unevenness_within: float | None = None
    edge: float | None = None
    edge_within: float | None = None
    separation: float | None = None
    separation_within: float | None = None
    path: tuple[Lab, ...] = ()


@dataclass(frozen=True, slots=True)
class Light:
    """How the light of a photograph was settled, and the fit's own left-out error where it has one."""

    tier: Tier
    check_delta_e00: float | None = None


@dataclass(frozen=True, slots=True)
class SheetRead:
    """All that was read from one page: the light, the readings, the boxes left unread, the swatches."""

    light: Light
    readings: tuple[Reading, ...]
    unread: tuple[Unread, ...]
    swatches: tuple[Swatch, ...]
