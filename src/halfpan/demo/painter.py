"""The virtual painter: paints every box of a printed page that has a paint, by the chart's own strokes."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Box, Chart, Page, Rect, Stroke, Zone
from halfpan.core.colour.screen import xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.demo.brush import Hand, Laid, faded, lay_box
from halfpan.demo.film import Film, film_at, mix_films
from halfpan.demo.sheet import PaintedSheet, Patch, Wash, load_to_level, smooth_primaries
from halfpan.demo.tooth import Tooth, make_tooth
from halfpan.demo.truth import BoxTruth, Truth, contrast_of, zone_truth

Array = NDArray[np.float64]
Field = NDArray[np.float32]


@dataclass(frozen=True, slots=True, eq=False)
class Paper:
    """The sheet under the paint: reflectance (31,) of bare paper and of the printer's black, and relief."""

    white: Array
    black: Array
    relief: float = 0.006


def paper_of(lab: tuple[float, float, float] = (95.5, 0.0, 1.0), ink: float = 0.045) -> Paper:
    """Return a paper of a given D50 colour and an even black of a given reflectance."""
    white = xyz_to_linear_srgb(lab_to_xyz(lab)) @ smooth_primaries()
    return Paper(white, np.full(31, ink))


def any_paper(rng: np.random.Generator) -> Paper:
    """Return a paper off the shelf: near L* 95.5, a* 0, b* 1, printed with ink of 3.5 to 5.5 %."""
    lightness, redness, yellowness = rng.normal((95.5, 0.0, 1.0), (0.5, 0.3, 0.6))
    return paper_of((lightness, redness, yellowness), rng.uniform(0.035, 0.055))


def paint_sheet(
    chart: Chart,
    page: Page,
    picture: NDArray[np.uint8],
    films: Mapping[str, Film],
    *,
    rng: np.random.Generator,
    dpi: float,
    hand: Hand = Hand(),  # noqa: B008 -- frozen
    paper: Paper | None = None,
    leave: Collection[str] = (),
    box_films: Mapping[str, Film] | None = None,
    wash_pictures: Mapping[str, Field] | None = None,
) -> tuple[PaintedSheet, Truth]:
    """Paint one printed page and say what is true of it.

    Parameters
    ----------
    chart, page : the chart and the page of it that was printed
    picture : array, shape (rows, cols) or (rows, cols, 3), uint8
        The printed page as a picture at ``dpi``, black on white.
    films : the true film of each paint by its id; boxes of other paints, or of mixes with them, stay bare
    rng : all chance comes from here
    dpi : of ``picture``, and of the painted sheet
    hand, paper : who paints, on what; paper off the shelf when none is given
    leave : names of boxes not to paint
    box_films : films by the name of the box, before ``films``: mixes, boxes without a paint
    wash_pictures : pictures of real washes, linear sRGB (h, w, 3) at ``dpi``, laid over a box's first stroke

    Returns
    -------
    painted : PaintedSheet, of matter rather than of light; give it to a scanner or a camera
    truth : Truth
    """
    paper = paper or any_paper(rng)
    tooth = make_tooth(dpi / 25.4, rng)
    own = {box.box: film for box in page.boxes if (film := _film_for(box, films)) is not None}
    own.update(box_films or {})
    jobs = [_Job(b, own[b.box], _strengths(b, hand, rng)) for b in page.boxes if b.box in own]
    jobs = [job for job in jobs if job.box.box not in leave and job.box.strokes]
    laid = [job.lay(hand, tooth, dpi, rng) for job in jobs]
    spilt = [(i, _drip(laid[i], dpi, rng)) for i in range(len(jobs)) if rng.random() < hand.spill]
    patches = [Patch(i, one.row, one.col, load_to_level(one.load)) for i, one in [*enumerate(laid), *spilt]]
    painted = PaintedSheet(
        sheet=chart.sheet,
        page=page,
        dpi=dpi,
        ink=_ink_of(picture),
        paper=paper.white,
        black=paper.black,
        tooth=tooth,
        relief=paper.relief,
        films=tuple(job.film for job in jobs),
        patches=tuple(patches),
        washes=tuple(_wash(page, name, field, dpi) for name, field in (wash_pictures or {}).items()),
    )
    return painted, _truth(painted, jobs, hand)


def _ink_of(picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
    grey = picture if picture.ndim == 2 else cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY)
    return np.asarray(255 - grey, dtype=np.uint8)


def _film_for(box: Box, films: Mapping[str, Film]) -> Film | None:
    """Return what the chart asks for in a box: a paint, or a mix of the strength of one."""
    if box.mix and all(part.paint in films for part in box.mix):
        whole = sum(part.parts for part in box.mix)
        return mix_films([films[p.paint] for p in box.mix], [p.parts / whole for p in box.mix])
    return films.get(box.paint) if box.paint is not None else None


def _strengths(box: Box, hand: Hand, rng: np.random.Generator) -> tuple[float, ...]:
    """Return how strong each stroke is meant: one brushful for a box, a fresh one for each repeat."""
    fresh = any(zone.zone.startswith("repeat") for zone in box.zones)
    drawn = np.exp(rng.normal(0, hand.strength_sd, len(box.strokes) if fresh else 1))
    return tuple(float(v) for v in np.broadcast_to(drawn, len(box.strokes)))


@dataclass(frozen=True, slots=True, eq=False)
class _Job:
    """One box to paint: with what, and how strong each stroke."""

    box: Box
    film: Film
    strengths: tuple[float, ...]

    def lay(self, hand: Hand, tooth: Tooth, dpi: float, rng: np.random.Generator) -> Laid:
        """Paint the strokes; when dry, lift some off where the chart says so."""
        laid = lay_box(
            self.box.strokes,
            self.film,
            self.strengths,
            hand=hand,
            tooth=tooth,
            pixels_per_mm=dpi / 25.4,
            rng=rng,
        )
        for zone in self.box.zones:
            if zone.zone == "lifted":
                _multiply(laid, zone.rect.inset(-1.2), left_when_lifted(self.film), dpi / 25.4)
        return laid

    def load_in(self, zone: Zone) -> float:
        """Return the load aimed at in a zone: that of all coats over it, the mean of a gradation."""
        rect = zone.rect
        middle = Rect(rect.x + rect.width / 2, rect.y + rect.height / 2, 0, 0)
        load = 0.0
        for stroke, strength in zip(self.box.strokes, self.strengths, strict=True):
            if stroke.rect.contains(middle):
                graded = stroke.strength == "graded"
                share = float(faded(way_along(stroke, rect)).mean()) if graded else 1.0
                load += strength * stroke.load * share
        return load * (left_when_lifted(self.film) if zone.zone == "lifted" else 1.0)


def left_when_lifted(film: Film) -> float:
    """Return the share of a wash that stays when it is wetted and blotted."""
    return 0.15 + 0.75 * film.staining


def way_along(stroke: Stroke, rect: Rect, count: int = 25) -> Field:
    """Return how far along a graded stroke even places of a rectangle lie, strong end first, 0-1."""
    at = (np.arange(count, dtype=np.float32) + np.float32(0.5)) / np.float32(count)
    whole = stroke.rect
    if stroke.towards in {"right", "left"}:
        way = (rect.x + at * rect.width - whole.x) / whole.width
    else:
        way = (rect.y + at * rect.height - whole.y) / whole.height
    return np.sort(1 - way) if stroke.towards in {"left", "up"} else np.asarray(way, dtype=np.float32)


def _multiply(laid: Laid, rect: Rect, factor: float, ppm: float) -> None:
    rows, cols = laid.load.shape
    top, left = round(rect.y * ppm) - laid.row, round(rect.x * ppm) - laid.col
    bottom, right = round(rect.bottom * ppm) - laid.row, round(rect.right * ppm) - laid.col
    share = np.ones((rows, cols), dtype=np.float32)
    share[max(top, 0) : max(bottom, 0), max(left, 0) : max(right, 0)] = factor
    laid.load[...] *= cv2.GaussianBlur(share, (0, 0), max(0.25 * ppm, 0.5))


def _drip(laid: Laid, dpi: float, rng: np.random.Generator) -> Laid:
    """Let a drop of the same paint fall beside the box, 1 to 2.5 mm across."""
    ppm = dpi / 25.4
    radius = rng.uniform(0.5, 1.25) * ppm
    side = int(2 * radius + 0.8 * ppm)
    rows, cols = laid.load.shape
    row = laid.row + rng.integers(0, max(rows - side, 1))
    beside = laid.col - side // 2 if rng.random() < 0.5 else laid.col + cols - side // 2
    y, x = np.mgrid[:side, :side] - (side - 1) / 2
    depth = (radius - np.hypot(x, y * rng.uniform(0.8, 1.2))) / ppm
    load = np.clip(depth / 0.15, 0, 1) * (0.5 + 0.5 * np.exp(-((depth / 0.3) ** 2)))
    return Laid(int(row), int(beside), load.astype(np.float32))


def _wash(page: Page, name: str, linear: Field, dpi: float) -> Wash:
    rect = next(box for box in page.boxes if box.box == name).strokes[0].rect
    ppm = dpi / 25.4
    row, col = round(rect.y * ppm), round(rect.x * ppm)
    rows, cols = round(rect.height * ppm), round(rect.width * ppm)
    if linear.shape[0] < rows or linear.shape[1] < cols:
        raise ValueError(f"the wash for box {name} needs at least {rows} x {cols} pixels at this dpi")
    return Wash(row, col, np.asarray(linear[:rows, :cols], dtype=np.float32))


def _truth(painted: PaintedSheet, jobs: list[_Job], hand: Hand) -> Truth:
    by_box = {job.box.box: job for job in jobs}
    zones = []
    for box in painted.page.boxes:
        job = by_box.get(box.box)
        for zone in box.zones:
            load = job.load_in(zone) if job else 0.0
            zones.append(zone_truth(painted, box, zone, job.film if job and load else None, load))
    boxes = [_box_truth(painted, box, by_box.get(box.box), hand) for box in painted.page.boxes]
    paper, black = (reflectance_to_lab(ground) for ground in (painted.paper, painted.black))
    return Truth(paper, black, tuple(zones), tuple(boxes))


def _box_truth(painted: PaintedSheet, box: Box, job: _Job | None, hand: Hand) -> BoxTruth:
    if job is None:
        return BoxTruth(box.box, box.paint, None, 0.0, 0.0, float("nan"), np.zeros(0), np.zeros((0, 3)))
    zone, stroke = box.zone("graded"), next((s for s in box.strokes if s.strength == "graded"), None)
    loads = np.zeros(0)
    if zone is not None and stroke is not None:
        loads = job.strengths[0] * faded(way_along(stroke, zone.rect)).astype(np.float64)
    return BoxTruth(
        box=box.box,
        paint=box.paint,
        film=job.film,
        load=job.strengths[0],
        grain=hand.grain * job.film.grain,
        contrast_ratio=contrast_of(painted, job.film, job.strengths[0]),
        graded_loads=loads,
        graded_lab=reflectance_to_lab(film_at(job.film, loads, painted.paper)),
    )
