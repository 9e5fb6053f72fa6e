"""Fill a studio with the invented paints and do with it what a painter does: rule, paint, photograph, read.

Everything goes through the use cases of a painter's own studio; only brush and camera are virtual.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import cycle
from pathlib import Path
from typing import Literal

import numpy as np

from halfpan.collection import changes, makers, paints, papers
from halfpan.collection.papers import Paper as PaperRecord
from halfpan.core.chart.sheet import Chart, Page
from halfpan.demo.brush import Hand
from halfpan.demo.camera import photograph, simple_camera, simple_setting
from halfpan.demo.film import Film
from halfpan.demo.hung import Hung, hang_and_read
from halfpan.demo.painter import Paper, any_paper, paint_sheet
from halfpan.demo.scanner import scan
from halfpan.demo.sheet import PaintedSheet
from halfpan.demo.shot import Shot
from halfpan.demo.studio_paints import StudioPaint, studio_paints
from halfpan.demo.truth import Truth
from halfpan.files.pdf import page_picture
from halfpan.files.tables import csv_text, table_of
from halfpan.files.target_colours import published_target
from halfpan.files.whole import write_whole
from halfpan.studio.add_paints import add_paints
from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.plan_mixes import plan_mixes
from halfpan.studio.print_plan import print_plan
from halfpan.studio.read_chart import ChartRead, read_chart
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.seat_tin import seat_tin
from halfpan.studio.studio import Studio

DPI = 300
PAPER = "Mill Press"
TIN = "Field tin"
TIN_SEATS = ("hhhhhh", "hhhhhh")
LEFT_BARE = ("Primrose", "Cobalt Violet", "Green Earth", "Graphite")
IN_THE_TIN = (
    "Pure Yellow", "Warm Yellow", "Pyrrole Red", "Quinacridone Rose", "Ultramarine", "Phthalo Turquoise",
    "Viridian", "Yellow Ochre", "Transparent Oxide Brown", "Burnt Umber", "Indanthrone Blue",
)  # fmt: skip
MIXES = 15

How = Literal["photo", "scan"]
CHART_PICTURES: tuple[tuple[How, ...], ...] = (("photo", "scan"), ("photo",), ("scan",))
MIX_PICTURES: tuple[tuple[How, ...], ...] = (("scan",),)

Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True, eq=False)
class Taken:
    """One picture of one painted page: what was done, the file, and all that is true of the page."""

    how: How
    path: Path
    shot: Shot
    page: Page
    truth: Truth


@dataclass(frozen=True, slots=True, eq=False)
class ReadBack:
    """One picture and what was read of it."""

    taken: Taken
    read: ChartRead


@dataclass(frozen=True, slots=True, eq=False)
class Filled:
    """What was made: the list of paints, the prints, every picture and what was read of it."""

    listing: Path
    prints: tuple[tuple[Chart, Path], ...]
    chart: Chart
    mixes: Chart
    window: Hung
    back: tuple[ReadBack, ...]
    paints: Mapping[str, StudioPaint]


def fill_studio(
    studio: Studio, folder: Path, *, now: datetime, seed: int = 7, tell: Tell = lambda _: None
) -> Filled:
    """Fill an empty studio with the invented one, and write lists, prints and pictures into a folder.

    Parameters
    ----------
    studio : Studio, empty
    folder : where the list of paints, the PDFs and the pictures go
    now : the time of day
    seed : of all chance
    tell : told what is going on, a sentence at a time
    """
    rng = np.random.default_rng(seed)
    tell("adding the invented paints")
    listing = write_listing(folder / "paints.csv")
    own = _add(studio, listing, now)
    films = {number: entry.film for number, entry in own.items()}
    tell("ruling and printing a chart")
    chart, _ = rule_chart(
        studio, ChartWish(title="Estuary studio", paper=PAPER), folder / "chart.pdf", now=now
    )
    paper = any_paper(rng)
    bare = {number for number, entry in own.items() if entry.paint.name in LEFT_BARE}
    easel = _Easel(studio, folder, films, paper, bare, rng, now, tell)
    back = [*easel.paint_and_read(chart, "chart.pdf", CHART_PICTURES)]
    tell("seating a tin")
    _tin(studio, own, now)
    tell("planning mixes, painting and reading them")
    plan = plan_mixes(studio, boxes=MIXES, among=TIN)
    mixes, _ = print_plan(studio, plan, folder / "mixes.pdf", now=now)
    back += easel.paint_and_read(mixes, "mixes.pdf", MIX_PICTURES)
    first = _first_of(own)
    window = hang_and_read(
        studio, folder, films, first, paper=paper, kept_paper=PAPER, rng=rng, now=now, tell=tell
    )
    prints = (
        (chart, folder / "chart.pdf"), (mixes, folder / "mixes.pdf"), (window.chart, window.pdf)
    )  # fmt: skip
    return Filled(listing, prints, chart, mixes, window, tuple(back), own)


def write_listing(path: Path) -> Path:
    """Write the invented paints as a list that anybody could have typed."""
    header = (
        "maker", "range", "name", "codes", "form", "size", "price", "currency", "series",
        "lightfastness", "transparency", "granulation", "staining", "health",
    )  # fmt: skip
    rows = []
    for entry in studio_paints():
        p, label = entry.paint, entry.paint.label
        told = (label.lightfastness, label.transparency, label.granulation, label.staining, label.health)
        rows.append((p.maker, p.range, p.name, label.codes, p.form, f"{p.size_ml:g}", f"{p.price:.2f}",
                     p.currency, p.series, *told))  # fmt: skip
    write_whole(path, csv_text(header, rows).encode())
    return path


def _add(studio: Studio, listing: Path, now: datetime) -> dict[str, StudioPaint]:
    """Add the list; return the invented paints by the ids the studio gave them."""
    add_paints(studio, table_of(listing.read_bytes(), listing.name), now=now)
    scales = {(e.paint.maker, e.paint.range): e.paint.label.scales for e in studio_paints()}
    with studio.transaction() as db, changes.noted(db, "noted the makers' scales and a paper", now=now):
        for (maker, range_name), text in scales.items():
            makers.set_scales(db, maker, range_name, text)
        papers.add(db, PaperRecord(PAPER, maker="Larkspur Mill", surface="cold pressed", weight_gsm=300))
        held = {(p.maker, p.name): p.id for p in paints.listed(db)}
    return {held[entry.paint.maker, entry.paint.name]: entry for entry in studio_paints()}


def _first_of(own: Mapping[str, StudioPaint]) -> dict[str, str]:
    """Return the first paint of each name, by its name."""
    return {entry.paint.name: number for number, entry in reversed(list(own.items()))}


def _tin(studio: Studio, own: Mapping[str, StudioPaint], now: datetime) -> None:
    first = _first_of(own)
    new_tin(studio, TIN, TIN_SEATS, now=now)
    fill_tin(studio, TIN, [first[name] for name in IN_THE_TIN], now=now)
    seat_tin(studio, TIN, now=now)


@dataclass(frozen=True, slots=True, eq=False)
class _Easel:
    """The virtual painter at work: what there is to paint with, on what, and by whose clock and chance."""

    studio: Studio
    folder: Path
    films: Mapping[str, Film]
    paper: Paper
    bare: Collection[str]
    rng: np.random.Generator
    now: datetime
    tell: Tell

    def paint_and_read(
        self, chart: Chart, printed: str, wanted: Sequence[Sequence[How]]
    ) -> Sequence[ReadBack]:
        """Paint every page of a print, take the pictures wanted of each in turn, and read them."""
        back = []
        pdf = (self.folder / printed).read_bytes()
        for page, hows in zip(chart.pages, cycle(wanted), strict=False):
            self.tell(f"painting page {page.page} of {len(chart.pages)}")
            painted, truth = self._painted(chart, page, pdf)
            for how in hows:
                shot = self._taken(how, painted)
                name = f"{Path(printed).stem}-{page.page}-{how}.{shot.suffix}"
                write_whole(self.folder / name, shot.file)
                taken = Taken(how, self.folder / name, shot, page, truth)
                self.tell(f"reading {name}")
                back.append(ReadBack(taken, read_chart(self.studio, [taken.path], now=self.now)))
        return back

    def _painted(self, chart: Chart, page: Page, pdf: bytes) -> tuple[PaintedSheet, Truth]:
        return paint_sheet(
            chart,
            page,
            page_picture(pdf, page.page, DPI),
            self.films,
            rng=self.rng,
            dpi=DPI,
            paper=self.paper,
            hand=Hand(spill=0.03),
            leave=[box.box for box in page.boxes if box.paint in self.bare],
        )

    def _taken(self, how: How, painted: PaintedSheet) -> Shot:
        if how == "scan":
            return scan(painted, rng=self.rng)
        camera = simple_camera(self.rng, mixing="leaking")
        setting = simple_setting(self.rng, size=(3264, 2448))
        return photograph(painted, rng=self.rng, camera=camera, setting=setting, target=published_target())
