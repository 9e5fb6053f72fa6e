"""How well the painter repeats a swatch, from paints that were painted and read several times."""

from __future__ import annotations

from sqlalchemy import Connection

from halfpan.collection import readings, swatches
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability, repeatability_from
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch


def repeatability(db: Connection) -> Repeatability:
    """Return the painter's own repeatability, or the stated guess until something was painted twice.

    Boxes of one paint count once each, whichever chart they are on; two photographs of one box are no
    repeat of painting.
    """
    groups: dict[str, dict[tuple[str | None, str], Painted]] = {}
    for kept in swatches.listed(db, state="accepted"):
        if kept.swatch.paint is not None:
            box = (kept.chart, kept.swatch.box)
            groups.setdefault(kept.swatch.paint, {})[box] = _painted(kept.swatch.paint, kept.swatch)
    for kept_reading in readings.listed(db, state="accepted"):
        reading = kept_reading.reading
        if reading.paint is not None and reading.zone.startswith("repeat "):
            lone = Swatch(reading.box, reading.paint, "", masstone=reading.lab)
            place = (kept_reading.chart, f"{reading.box} {reading.zone}")
            groups.setdefault(f"{reading.paint} {reading.box}", {})[place] = _painted(reading.paint, lone)
    return repeatability_from([tuple(group.values()) for group in groups.values()])


def _painted(key: str, swatch: Swatch) -> Painted:
    return Painted(Paint(key, "", "", ""), swatch)
