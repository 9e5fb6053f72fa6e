"""What a painter saw by eye: proof too, dated, with the scale's direction and the paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from halfpan.core.paint.scales import PROPERTIES, level_of


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing seen. ``quality`` is free (re-wetting, lifting, flow, hue, ...); ``scale`` its direction.

    ``scale`` reads like a maker's: ``0 to 5, 5 stains most``. ``paper`` is the paper it was seen on.
    """

    quality: str
    value: str
    scale: str = ""
    paper: str = ""
    seen: date | None = None
    note: str = ""

    @property
    def sentence(self) -> str:
        """Return the finding in one line, with its date and paper."""
        told = [self.value]
        if self.scale:
            told.append(f"({self.scale})")
        on = f" on {self.paper}" if self.paper else ""
        when = f", {self.seen.day} {self.seen:%B %Y}" if self.seen else ", no date"
        return f"{' '.join(told)} by eye{on}{when}"

    @property
    def level(self) -> float | None:
        """Say where it stands on the line of `halfpan.core.paint.scales`, if its quality has one."""
        for prop in PROPERTIES:
            if self.quality.strip().casefold() == prop:
                return level_of(prop, self.value, f"{prop}: {self.scale}" if self.scale else "")
        return None
