"""How well the painter repeats a swatch, from paints that were painted and read several times."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from sqlalchemy import Connection

from halfpan.collection import repeats, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability, repeatability_from
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch


def repeatability(db: Connection) -> Repeatability:
    """Return the painter's own repeatability, or the stated guess until something was painted twice."""
    return repeatability_of(db, swatches.listed(db, state="accepted"))


def repeatability_of(db: Connection, accepted: Iterable[KeptSwatch]) -> Repeatability:
    """Return the repeatability with the accepted swatches at hand.

    Boxes of one paint count once each, whichever chart they are on; two photographs of one box are no
    repeat of painting. Strokes of a sheet of tests count box by box.
    """
    named = [(kept.swatch.paint, kept) for kept in accepted if kept.swatch.paint is not None]
    times = Counter(paint for paint, _ in named)
    groups: dict[str, dict[tuple[str | None, str], Painted]] = {}
    for paint, kept in named:
        if times[paint] > 1:
            box = (kept.chart, kept.swatch.box)
            groups.setdefault(paint, {})[box] = _painted(paint, kept.swatch)
    for stroke in repeats.listed(db):
        lone = Swatch(stroke.box, stroke.paint, "", masstone=stroke.lab)
        sheet = f"{stroke.paint} {stroke.chart} {stroke.box}"
        groups.setdefault(sheet, {})[stroke.chart, stroke.zone] = _painted(stroke.paint, lone)
    return repeatability_from([tuple(group.values()) for group in groups.values() if len(group) > 1])


def _painted(key: str, swatch: Swatch) -> Painted:
    return Painted(Paint(key, "", "", ""), swatch)
