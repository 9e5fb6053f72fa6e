"""A studio with a sheet of a light test that the virtual painter painted, hung up and photographed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np

from halfpan.collection import paints
from halfpan.collection.light_tests import LightTest
from halfpan.core.chart.sheet import Chart
from halfpan.core.colour.difference import delta_e_76
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.demo.film import Film, film_at
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.scanner import scan
from halfpan.demo.sheet import PaintedSheet
from halfpan.demo.studio_paints import studio_paints
from halfpan.demo.truth import Truth
from halfpan.demo.window import faded_film, hung_in_light
from halfpan.files.pdf import page_picture
from halfpan.studio.hang_strip import hang_strip
from halfpan.studio.measuring import ReadWish
from halfpan.studio.read_chart import ChartRead, read_chart
from halfpan.studio.rule_chart import ChartWish
from halfpan.studio.studio import Studio

STARTED = date(2026, 3, 1)
DPI = 200
LEFT = {"1": {30: 0.85, 90: 0.45}, "2": {30: 1.0, 90: 1.0}}
"""What is left of the colour of the paint in each box after some days; all of the others'."""


def at(days: int) -> datetime:
    """A moment so many days after the start."""
    return datetime(2026, 3, 1, 12, tzinfo=UTC) + timedelta(days=days)


@dataclass(frozen=True)
class HungSheet:
    """A painted sheet in a window, and what is true of it."""

    chart: Chart
    films: Mapping[str, Film]
    painted: PaintedSheet
    truth: Truth

    def shot(self, folder: Path, days: int, seed: int = 5) -> Path:
        """Scan it after so many days."""
        there = hung_in_light(self.painted, {box: left.get(days, 1.0) for box, left in LEFT.items()})
        path = folder / f"day-{days}.jpg"
        path.write_bytes(scan(there, rng=np.random.default_rng([seed, days])).file)
        return path

    def true_change(self, box: str, zone: str, days: int) -> float:
        """The true change of a wash by light, dE*ab."""
        paint = next(one.paint for one in self.chart.pages[0].boxes if one.box == box)
        film = self.films[paint or ""]
        load = self.truth.zone(box, zone).load
        faded = faded_film(film, LEFT.get(box, {}).get(days, 1.0))
        kept, lit = (reflectance_to_lab(film_at(f, load, self.painted.paper)) for f in (film, faded))
        return float(delta_e_76(lit, kept))


def hung_sheet(studio: Studio, folder: Path, *, seed: int = 3) -> HungSheet:
    """Begin a light test of three invented paints and paint its sheet."""
    by_family = {one.family: one for one in studio_paints() if len(one.paint.codes) == 1}
    chosen = [by_family[name] for name in ("roses and magentas", "earths", "blues")]
    with studio.transaction() as db:
        ids = paints.add_all(db, [one.paint for one in chosen], now=at(0))
    test = LightTest("South window", STARTED, place="studio", facing="south", latitude_deg=52.0)
    sheet = ChartWish(sheet="A5", order="given")
    hung = hang_strip(studio, test, sheet, folder / "light.pdf", now=at(0), new_id=lambda: "L2GHT7")
    films = dict(zip(ids, (one.film for one in chosen), strict=True))
    printed = page_picture((folder / "light.pdf").read_bytes(), 1, DPI)
    painted, truth = paint_sheet(
        hung.chart,
        hung.chart.pages[0],
        printed,
        films,
        rng=np.random.default_rng(seed),
        dpi=DPI,
        paper=paper_of(),
    )
    return HungSheet(hung.chart, films, painted, truth)


def read_on(studio: Studio, path: Path, days: int, *, review: bool = False) -> ChartRead:
    """Read a picture so many days after the start."""
    return read_chart(studio, [path], ReadWish(target="none", review=review), now=at(days))
