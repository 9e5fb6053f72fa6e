"""The invented studio's window: a sheet painted, hung up, faded by as much as is known, scanned and read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

from halfpan.collection.light_tests import LightTest
from halfpan.core.chart.sheet import Chart
from halfpan.core.colour.difference import delta_e_76
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.demo.film import Film, film_at
from halfpan.demo.painter import Paper, paint_sheet
from halfpan.demo.scanner import scan
from halfpan.demo.sheet import PaintedSheet
from halfpan.demo.truth import Truth
from halfpan.demo.window import faded_film, hung_in_light
from halfpan.files.pdf import page_picture
from halfpan.files.whole import write_whole
from halfpan.studio.follow_light_tests import StripSeen, Waiting, follow_light_test
from halfpan.studio.hang_strip import hang_strip
from halfpan.studio.measuring import ReadWish
from halfpan.studio.read_chart import read_chart
from halfpan.studio.rule_chart import ChartWish
from halfpan.studio.studio import Studio

WINDOW = "South window"
DAYS = (0, 45, 120)
LEFT = {
    "Alizarin Crimson": (1.0, 0.75, 0.45),
    "Dioxazine Violet": (1.0, 0.96, 0.9),
    "Quinacridone Rose": (1.0, 1.0, 1.0),
    "Ultramarine": (1.0, 1.0, 1.0),
}
"""How much of a paint's colour is left in its lighted half after each of the days, 0-1: invented."""

DPI = 200


@dataclass(frozen=True, slots=True, eq=False)
class Strip:
    """One stroke of the sheet: what was read of it at the last look, and its true change by light, dE*ab."""

    seen: StripSeen
    true_delta_e_ab: float

    @property
    def held(self) -> bool:
        """Whether the truth lies inside the stated doubt."""
        return abs(self.seen.now.delta_e_ab - self.true_delta_e_ab) <= self.seen.now.within_ab


@dataclass(frozen=True, slots=True, eq=False)
class Hung:
    """The sheet's print, its pictures by the days in light, its strokes, and those that wait for review."""

    chart: Chart
    pdf: Path
    pictures: tuple[tuple[int, Path], ...]
    strips: tuple[Strip, ...]
    waiting: tuple[Waiting, ...]


def hang_and_read(
    studio: Studio,
    folder: Path,
    films: Mapping[str, Film],
    numbers: Mapping[str, str],
    *,
    paper: Paper,
    kept_paper: str,
    rng: np.random.Generator,
    now: datetime,
    tell: Callable[[str], None],
) -> Hung:
    """Do a light test of four months: its sheet was hung 120 days ago, and its scans are read today.

    Parameters
    ----------
    studio, folder : where it is kept; where print and pictures go
    films : by the number of a paint
    numbers : by the name of a paint
    paper, kept_paper : what it is painted on, and by which name the studio keeps that
    rng, now : chance and clock
    tell : told what is going on
    """
    tell("hanging a sheet in the window")
    started = now - timedelta(days=DAYS[-1])
    test = LightTest(WINDOW, started.date(), place="studio", facing="south", glass="plain window glass",
                     latitude_deg=52.0)  # fmt: skip
    wish = ChartWish(
        paints=",".join(numbers[name] for name in LEFT), sheet="A5", order="given", paper=kept_paper
    )
    pdf = folder / "window.pdf"
    chart = hang_strip(studio, test, wish, pdf, now=now).chart
    painted, truth = _painted(chart, pdf, films, paper, rng)
    pictures = []
    for at, days in enumerate(DAYS):
        path = folder / f"window-day-{days}.jpg"
        write_whole(path, scan(hung_in_light(painted, _left(chart, numbers, at)), rng=rng).file)
        tell(f"reading {path.name}")
        read_chart(studio, [path], ReadWish(seen=(started + timedelta(days=days)).date()), now=now)
        pictures.append((days, path))
    seen = follow_light_test(studio, WINDOW, now=now)
    left = _left(chart, numbers, -1)
    told = tuple(Strip(one, _change(one, painted, truth, films, left)) for one in seen.strips)
    return Hung(chart, pdf, tuple(pictures), told, seen.waiting)


def _painted(
    chart: Chart, pdf: Path, films: Mapping[str, Film], paper: Paper, rng: np.random.Generator
) -> tuple[PaintedSheet, Truth]:
    printed = page_picture(pdf.read_bytes(), 1, DPI)
    return paint_sheet(chart, chart.pages[0], printed, films, rng=rng, dpi=DPI, paper=paper)


def _left(chart: Chart, numbers: Mapping[str, str], at: int) -> dict[str, float]:
    """Return how much colour is left in each box at one of the looks."""
    boxes = {box.paint: box.box for box in chart.pages[0].boxes}
    return {boxes[numbers[name]]: left[at] for name, left in LEFT.items()}


def _change(
    one: StripSeen, painted: PaintedSheet, truth: Truth, films: Mapping[str, Film], left: Mapping[str, float]
) -> float:
    box = one.strip.box
    zone = truth.zone(box, "kept" if one.strip.strength == "full" else "kept thin")
    if zone is None or one.paint is None:
        raise ValueError(f"Nothing is known of box {box} of the light test.")
    film = films[one.paint.id]
    kept, lit = (
        reflectance_to_lab(film_at(f, zone.load, painted.paper)) for f in (film, faded_film(film, left[box]))
    )
    return float(delta_e_76(lit, kept))
