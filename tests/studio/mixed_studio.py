"""A studio with four invented paints, swatches of three of them measured, and some of their mixes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

import numpy as np

from halfpan.collection import readings
from halfpan.collection.readings import KeptReading
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.observation import PLAIN_PAPER, Recipe, Wash
from halfpan.core.mixing.prior import Prior, basis_of
from halfpan.core.paint.reading import Lab, Reading
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.list_paints import list_paints
from halfpan.studio.studio import Studio

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
LIST = """maker,range,name,codes
Tidewater,Estuary,Harbour Blue,PB29
Tidewater,Estuary,Rose,PV19
Old Quarry,Studio,Straw,PY150
Old Quarry,Studio,Moss,PY150 PB29
"""
NAMES = ("Harbour Blue", "Rose", "Straw")


def with_paints(studio: Studio) -> dict[str, str]:
    """Add the paints and return their ids by name."""
    add_paints(studio, parse_table(LIST), now=NOW)
    return {paint.name: paint.id for paint in list_paints(studio)}


def truly(washes: Sequence[Wash], ids: dict[str, str], ground: Lab = PLAIN_PAPER) -> list[Lab]:
    """Return the true colours of washes of the first three paints, amounts in units."""
    rows = {ids[name]: i for i, name in enumerate(NAMES)}
    truth = np.random.default_rng(1).normal(scale=0.8, size=(3, basis_of(Prior()).per_paint))
    labs = colours(arrange([Recipe((wash,), ground) for wash in washes], rows, 1.0), truth, Prior())
    return [(float(L), float(a), float(b)) for L, a, b in labs]


def measured(washes: Sequence[Wash], ids: dict[str, str], source: str, **more: object) -> list[KeptReading]:
    """Return accepted instrument readings of washes."""
    return [
        KeptReading(
            Reading("", wash[0][0] if len(wash) == 1 else None, "", lab, 0.5, "instrument", state="accepted"),
            NOW,
            amounts=wash,
            paper_lab=PLAIN_PAPER,
            source=source,
            source_row=str(i),
            **more,  # type: ignore[arg-type]
        )
        for i, (wash, lab) in enumerate(zip(washes, truly(washes, ids), strict=True), 1)
    ]


def ladders(ids: dict[str, str]) -> list[Wash]:
    """Return three steps of each of the three paints."""
    return [((ids[name], step),) for name in NAMES for step in (1.0, 3.0, 9.0)]


def pairs(ids: dict[str, str]) -> list[Wash]:
    """Return mixes of every two."""
    blue, rose, straw = (ids[name] for name in NAMES)
    return [
        ((a, m), (b, n))
        for a, b in ((blue, rose), (blue, straw), (rose, straw))
        for m, n in ((1.0, 1.0), (2.0, 4.0), (8.0, 4.0))
    ]


def keep(studio: Studio, kept: Sequence[KeptReading]) -> None:
    """Keep readings as they are."""
    with studio.transaction() as db:
        readings.add_all(db, kept)


def mixed_studio(studio: Studio, *, mixes: bool = True) -> dict[str, str]:
    """Fill a studio and return the ids of its paints by name."""
    ids = with_paints(studio)
    keep(studio, measured(ladders(ids), ids, "swatches.csv"))
    if mixes:
        keep(studio, measured(pairs(ids), ids, "mixes.csv"))
    return ids
