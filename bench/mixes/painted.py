"""The measured watercolours, seen as colours only, and how they are divided."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from halfpan.core.colour.spectra import BANDS, reflectance_to_lab
from halfpan.core.mixing.observation import Observation, Recipe, wash_of

DATA = Path(__file__).resolve().parents[3] / "shared" / "data" / "watercolour_mixtures"


@dataclass(frozen=True)
class Painted:
    """What was painted and read: swatches of one paint, mixes of two."""

    swatches: list[Observation]
    mixes: list[Observation]

    @property
    def pairs(self) -> np.ndarray:
        """Name the pair of each mix."""
        return np.array(["|".join(sorted(o.recipe.paints)) for o in self.mixes])

    def folds(self, split: int) -> Iterator[tuple[np.ndarray, np.ndarray, np.random.Generator]]:
        """Return five times the boxes to learn from, those of unseen pairs to be scored on, and chance."""
        rng = np.random.default_rng(split)
        names = np.unique(self.pairs)
        rng.shuffle(names)
        for i in range(5):
            held = np.isin(self.pairs, names[i::5])
            yield np.flatnonzero(~held), np.flatnonzero(held), np.random.default_rng([split, i])

    def some(self, rows: Sequence[int]) -> list[Observation]:
        """Return some of the mixes."""
        return [self.mixes[i] for i in rows]


def painted() -> Painted:
    def spectrum(row: dict[str, str]) -> np.ndarray:
        return np.array([float(row[f"R_{band:.0f}"]) for band in BANDS])

    def rows(name: str) -> list[dict[str, str]]:
        with (DATA / name).open() as lines:
            return list(csv.DictReader(lines))

    def seen(row: dict[str, str], occasion: str, *parts: tuple[str, float]) -> Observation:
        lab = tuple(reflectance_to_lab(spectrum(row)).tolist())
        return Observation(Recipe((wash_of(*parts),), paper), lab, occasion=occasion)

    paper = tuple(reflectance_to_lab([float(r["R_paper"]) for r in rows("paper.csv")]).tolist())
    swatches = [seen(r, "swatches", (r["paint"], float(r["amount_ml"]))) for r in rows("films.csv")]
    mixes = [
        seen(r, "mixes", *((r[f"paint_{s}"], float(r[f"amount_{s}_ml"])) for s in "ab"))
        for r in rows("mixtures.csv")
    ]
    return Painted(swatches, mixes)
