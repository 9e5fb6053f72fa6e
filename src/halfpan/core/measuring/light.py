"""The light that falls on the sheet, read from its bare paper, and what each place gives back of it.

Everything here is linear light. A *cell* is a small square of the sheet that nothing was printed or painted
on. The light field is a second-degree surface through the cells, a soft one draped over what that leaves,
and a fine correction that dies away where there are no cells.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Page, Rect
from halfpan.core.measuring.drape import drape
from halfpan.core.measuring.flatten import Flattening, to_picture
from halfpan.core.measuring.photo import Array, Photo, light_at
from halfpan.core.measuring.raster import CELL_MM, LEAST_SPREAD, Raster, between, smoothed
from halfpan.errors import UnreadablePhoto

FINE = 4
"""A cell is looked at in 4 x 4 places."""

STROKE_ROOM_MM = 0.8
MARK_ROOM_MM = 1.5
SMOOTH_MM = 6.0
LENGTH_MM = 20.0
CHROMA_LENGTH_MM = 40.0
BURNT_LINEAR = 0.985
LUMINANCE = np.array([0.25, 0.60, 0.15])
FEWEST_CELLS, PLENTY = 60, 5000
NEAR_MM = 16.0


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """Bare paper: where the cells lie on the sheet (mm), their light, and which of them are burnt out."""

    points: Array
    light: Array
    burnt: NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class LightField:
    """The light on the sheet as the picture holds it.

    Attributes
    ----------
    origin, spacing : the raster, in mm; its first point is ``origin`` (x, y)
    surface : array, shape (rows, cols, 3), ln of the light of bare paper
    scatter, doubt, lost : arrays, shape (rows, cols): rms residual of the cells near by; standard deviation
        of the soft surface; share of the cells near by that were burnt out
    chroma_scatter : array, shape (3,), rms residual of each channel's balance
    bare_share : share of all cells that could be used
    noise : overall scatter of the cells about the field
    middle, tilt, bowl : second-degree fit: its centre (x, y), and coefficients of the plane (3, 3) and of
        the quadratic (6, 3), in units of ``100 mm`` about the centre, for places off the sheet
    """

    origin: Array
    surface: Array
    scatter: Array
    doubt: Array
    lost: Array
    chroma_scatter: Array
    bare_share: float
    noise: float
    middle: Array
    tilt: Array
    bowl: Array


def bare_cells(
    photo: Photo,
    page: Page,
    flattening: Flattening,
    *,
    scale: float = 1.0,
    sheet: tuple[float, float] | None = None,
) -> Cells:
    """Look at every cell of the sheet that the chart leaves bare.

    Parameters
    ----------
    photo : Photo, full or reduced
    page : Page
    flattening : Flattening, of the full picture
    scale : how many pixels of ``photo`` make one of the full picture
    sheet : width and height in mm; the span of marks and boxes where it is not given
    """
    right, bottom = sheet if sheet is not None else _span(page)
    free = _free(page, right, bottom)
    rows, cols = np.nonzero(free)
    if len(rows) > PLENTY:
        rows, cols = (v[(rows + cols) % 2 == 0] for v in (rows, cols))
    points = np.column_stack([cols + 0.5, rows + 0.5]) * CELL_MM
    within = (np.arange(FINE) + 0.5) / FINE - 0.5
    looks = points[:, None, None, :] + CELL_MM * np.stack(np.meshgrid(within, within), -1)
    light, burnt = light_at(
        photo, (to_picture(flattening, looks).reshape(len(points), -1, 2) + 0.5) * scale - 0.5
    )
    inside = ~np.isnan(light[..., 0]).any(1)
    if not inside.all():
        light, burnt, points = light[inside], burnt[inside], points[inside]
    r, g, b = np.ascontiguousarray(light.transpose(2, 0, 1))
    share = (burnt | (r > BURNT_LINEAR) | (g > BURNT_LINEAR) | (b > BURNT_LINEAR)).mean(1)
    return Cells(points, np.stack([np.median(c, axis=1) for c in (r, g, b)], axis=-1), share > 0.05)


def bare_squares(page: Page, side_mm: float = 6.4) -> list[Rect]:
    """Squares of the sheet that the chart leaves bare, side by side, none touching another."""
    cells = int(np.ceil(side_mm / CELL_MM))
    free = _free(page, *_span(page))
    side = cells * CELL_MM
    return [
        Rect(col * CELL_MM, row * CELL_MM, side, side)
        for row in range(0, free.shape[0] - cells + 1, cells)
        for col in range(0, free.shape[1] - cells + 1, cells)
        if free[row : row + cells, col : col + cells].all()
    ]


def _span(page: Page) -> tuple[float, float]:
    corners = [c for m in page.marks for c in m.corners]
    rects = [r for b in page.boxes for r in (*(s.rect for s in b.strokes), *(z.rect for z in b.zones))]
    corners += [(r.right, r.bottom) for r in rects]
    far = np.max(np.array(corners), axis=0)
    return float(far[0]), float(far[1])


def _free(page: Page, right: float, bottom: float) -> NDArray[np.bool_]:
    """Which cells nothing touches, with room to spare; a finer raster is painted and pooled."""
    step = CELL_MM / FINE
    rows, cols = int(bottom // CELL_MM), int(right // CELL_MM)
    taken = np.zeros((rows * FINE, cols * FINE), dtype=bool)
    for rect, room in _inked(page):
        top, low = (rect.y - room) / step, (rect.bottom + room) / step
        left, far = (rect.x - room) / step, (rect.right + room) / step
        taken[max(0, int(top)) : max(0, int(np.ceil(low))), max(0, int(left)) : max(0, int(np.ceil(far)))] = (
            True
        )
    taken[:FINE] = taken[-FINE:] = True
    taken[:, :FINE] = taken[:, -FINE:] = True
    touched = np.asarray(taken.reshape(rows, FINE, cols, FINE).any(axis=(1, 3)), dtype=bool)
    return ~touched


def _inked(page: Page) -> list[tuple[Rect, float]]:
    marks = []
    for mark in page.marks:
        low, high = np.min(mark.corners, axis=0), np.max(mark.corners, axis=0)
        marks.append((Rect(low[0], low[1], high[0] - low[0], high[1] - low[1]), MARK_ROOM_MM))
    strokes = [(s.rect, STROKE_ROOM_MM) for b in page.boxes for s in b.strokes]
    zones = [(z.rect, STROKE_ROOM_MM) for b in page.boxes for z in b.zones if not z.zone.startswith("bare")]
    return marks + strokes + zones + [(rect, STROKE_ROOM_MM) for rect in page.printed]


def light_field(cells: Cells, name: str = "the picture") -> LightField:
    """Fit the light on the sheet.

    Raises
    ------
    UnreadablePhoto
        When too little bare paper is left to see the light by, or most of it is burnt out.
    """
    good = ~cells.burnt & (cells.light > 1e-4).all(-1)
    share = float(np.mean(~cells.burnt)) if len(cells.burnt) else 0.0
    if good.sum() < FEWEST_CELLS:
        raise UnreadablePhoto(
            f"Too little bare paper can be seen in {name} to judge the light by; most of it is "
            + ("burnt out: take it again with less exposure." if share < 0.5 else "covered.")
        )
    if share < 0.4:
        raise UnreadablePhoto(
            f"{100 * (1 - share):.0f} % of the bare paper in {name} is burnt out to white, so colours cannot "
            "be judged: take it again with less exposure, away from glare."
        )
    points, levels = cells.points[good], np.log(cells.light[good])
    luminance = levels @ LUMINANCE
    balance = levels - luminance[:, None]
    middle = points.mean(0)
    clean = _unstained(points, levels, middle)
    lum_fit, _ = _robust(_terms(points, middle, 2), luminance, 6.0, clean)
    raster = Raster(cells.points)
    base = _terms(raster.points(), middle, 2)
    left = luminance - _terms(points, middle, 2) @ lum_fit
    soft, doubt = drape(points, left[:, None], clean, raster, length_mm=LENGTH_MM)
    left = left - raster.read(soft, points)[:, 0]
    smooth, _ = smoothed(raster, points, left, clean, SMOOTH_MM)
    residual = left - raster.read(smooth, points)
    tints, weight = _robust(_terms(points, middle, 2), balance, 4.0, clean)
    miss = balance - _terms(points, middle, 2) @ tints
    hue, _ = drape(points, miss, clean, raster, length_mm=CHROMA_LENGTH_MM)
    miss = miss - raster.read(hue, points)
    bowl = lum_fit[:, None] + tints
    surface = (base @ bowl).reshape(*raster.shape, 3) + soft + smooth[..., None] + hue
    tilt, _ = _robust(_terms(points, middle, 1), levels, 6.0, clean)
    return LightField(
        origin=raster.origin,
        surface=surface,
        scatter=np.sqrt(np.maximum(raster.pooled(points, np.clip(residual, -0.2, 0.2) ** 2, NEAR_MM), 0)),
        doubt=doubt,
        lost=raster.pooled(cells.points, cells.burnt.astype(float), NEAR_MM),
        chroma_scatter=np.sqrt(np.average(miss**2, axis=0, weights=weight + 1e-9)),
        bare_share=share,
        noise=1.4826 * float(np.median(np.abs(residual - np.median(residual)))),
        middle=middle,
        tilt=tilt,
        bowl=bowl,
    )


def read_raster(field: LightField, raster: Array, points: Array) -> Array:
    """Read a raster of the field at points (x, y) in mm, between its own points linearly."""
    return between(raster, (points - field.origin) / CELL_MM)


def paper_light(field: LightField, points: Array) -> Array:
    """Light (..., 3) that bare paper would give at points (..., 2) in mm."""
    return np.exp(read_raster(field, field.surface, points))


def tint_range(field: LightField) -> float:
    """How far the colour of the light changes over the sheet: the greatest SD of ln (channel / luminance)."""
    balance = field.surface - (field.surface @ LUMINANCE)[..., None]
    return float(balance.std((0, 1)).max())


def reach(field: LightField, points: Array) -> tuple[Array, Array]:
    """Light off the sheet, by a plane and by the second-degree surface: guesses that bracket the truth."""
    return (
        np.exp(_terms(points, field.middle, 1) @ field.tilt),
        np.exp(_terms(points, field.middle, 2) @ field.bowl),
    )


def _terms(points: Array, middle: Array, degree: int) -> Array:
    x, y = ((points - middle) / 100.0).reshape(-1, 2).T
    columns = [x**i * y**j for n in range(degree + 1) for i, j in ((n - j, j) for j in range(n + 1))]
    return np.stack(columns, axis=-1)


def _robust(terms: Array, values: Array, cut: float, clean: Array) -> tuple[Array, Array]:
    """Least squares that lets go of what lies more than ``cut`` median misses away (Tukey).

    ``values`` may be (n,) or (n, k); of k values the worst decides. Returns coefficients and weights (n,).
    """
    weight = clean.astype(float)
    for _ in range(6):
        weighed = terms * weight[:, None]
        fit = np.linalg.solve(weighed.T @ terms + 1e-9 * np.eye(terms.shape[1]), weighed.T @ values)
        miss = np.abs(values - terms @ fit).reshape(len(values), -1)
        spread = np.median(miss[weight > 0], axis=0) + LEAST_SPREAD
        weight = np.clip(1 - ((miss / (cut * spread)).max(1)) ** 2, 0, None) ** 2 * clean
    return fit, weight


def _unstained(points: Array, levels: Array, middle: Array) -> Array:
    """1 where a cell has the paper's own balance of red, green and blue, 0 where paint was spilled."""
    terms = _terms(points, middle, 3)
    clean = np.ones(len(points))
    for first, second in ((0, 1), (2, 1)):
        _, weight = _robust(terms, levels[:, first] - levels[:, second], 4.0, np.ones(len(points)))
        clean = clean * (weight > 0)
    return clean
