"""Invented pigment curves: absorption and scattering of one full-strength wash, band by band.

The shapes are of our own making (``data/demo/pigment_curves.csv`` says how they are written) and are fitted
to no measurement; the codes only say which real pigment a curve is meant to resemble.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.spectra import BANDS

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """One pigment as it behaves in a wash. ``absorption`` and ``scattering`` have shape (31,), 0 or more.

    ``grain``, ``staining`` and ``flow`` run from 0 to 1: how far it settles into the hollows of the paper,
    how much stays when lifted, how far it runs in water.
    """

    name: str
    code: str
    absorption: Array
    scattering: Array
    grain: float
    staining: float
    flow: float


def table_rows(name: str) -> list[dict[str, str]]:
    """Return the rows of one packaged table of the demo, by column name."""
    text = files("halfpan.data").joinpath("demo", name).read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def _triples(text: str) -> list[tuple[float, float, float]]:
    triples = []
    for part in filter(None, text.split(";")):
        first, second, third = (float(v) for v in part.split(":"))
        triples.append((first, second, third))
    return triples


def _curve(row: dict[str, str]) -> Curve:
    absorption = np.full(BANDS.shape, float(row["ground"]))
    for centre, width, height in _triples(row["bands"]):
        absorption += height * np.exp(-(((BANDS - centre) / width) ** 2) / 2)
    for edge, softness, height in _triples(row["edges"]):
        absorption += height / (1 + np.exp((BANDS - edge) / softness))
    scattering = float(row["level"]) * (BANDS / 550) ** -float(row["slope"])
    grain, staining, flow = (float(row[k]) for k in ("grain", "staining", "flow"))
    return Curve(row["curve"], row["code"], absorption, scattering, grain, staining, flow)


@cache
def pigment_curves() -> dict[str, Curve]:
    """Return every invented pigment by its name."""
    return {row["curve"]: _curve(row) for row in table_rows("pigment_curves.csv")}
