"""A studio filled with paints of the invented one: swatches and ladders made from their own films."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

import numpy as np

from halfpan.collection import paints, readings, swatches
from halfpan.collection.readings import KeptReading
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.film import film_over
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab, Reading, Swatch
from halfpan.demo.studio_paints import StudioPaint, studio_paints
from halfpan.studio.studio import Studio

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
PAPER = np.full(31, 0.86)
STRENGTHS = (1.0, 0.35, 0.12)


def lab_of(one: StudioPaint, strength: float) -> Lab:
    """Return the colour of a wash of one paint over the paper."""
    painted = film_over(strength * one.film.absorption, strength * one.film.scattering, PAPER)
    L, a, b = (float(v) for v in reflectance_to_lab(painted))
    return L, a, b


def paper_lab() -> Lab:
    """Return the colour of the bare paper."""
    L, a, b = (float(v) for v in reflectance_to_lab(PAPER))
    return L, a, b


def chosen(every: int = 4) -> list[StudioPaint]:
    """Return every so manieth paint of the invented studio."""
    return list(studio_paints())[::every]


def fill(
    studio: Studio,
    some: Sequence[StudioPaint],
    *,
    unread: Sequence[str] = (),
    owned: bool = True,
    **more: object,
) -> dict[str, Paint]:
    """Add paints, painted and read but for those named in ``unread``; return them by name."""
    with studio.transaction() as db:
        new = [replace(one.paint, id="", owned=owned, **more) for one in some]  # type: ignore[arg-type]
        ids = paints.add_all(db, new, now=NOW)
        for one, key in zip(some, ids, strict=True):
            if one.paint.name in unread:
                continue
            labs = [lab_of(one, strength) for strength in STRENGTHS]
            swatch = Swatch(key, key, one.paint.name, *labs, within_delta_e00=1.0)
            swatches.add_all(db, [KeptSwatch(swatch, NOW, state="accepted")])
            readings.add_all(
                db, [_step(key, k, s, lab) for k, (s, lab) in enumerate(zip(STRENGTHS, labs, strict=True))]
            )
        return {one.name: one for one in paints.of_ids(db, ids)}


def _step(key: str, row: int, strength: float, lab: Lab) -> KeptReading:
    return KeptReading(
        Reading("", key, "", lab, 0.5, "instrument", state="accepted"),
        NOW,
        amounts=((key, 8.0 * strength),),
        paper_lab=paper_lab(),
        source="ladders.csv",
        source_row=f"{key} {row}",
    )
