"""Texture of a painted zone: granulation, graininess and mottle, evenness, edges, separation of mixed paints.

Everything is worked from a flat, evenly lit piece of the sheet: linear light relative to bare paper, shape
(rows, cols, 3), at a known number of pixels a millimetre. Granulation is Halfpan's own measure: a band of
0.25 to 1.5 mm, the bare paper's own texture taken off in quadrature. Graininess and mottle follow the laws
of ISO/IEC 24790 as far as they are published.

References
----------
.. [1] ISO/IEC 24790:2017: graininess and mottle over tiles of 1.27 mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.screen import linear_srgb_to_xyz
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.measuring.photo import Array

FINE_MM, COARSE_MM = 0.25, 1.5
MOST_PIXELS_PER_MM = 6.0
EDGE_MM = 1.0
CLIP = 0.005
PIXEL_SD = 0.29
"""Standard deviation of a pixel's own square, in pixels (1 / root 12)."""
CAMERAS_APART = 0.10
"""How far two devices differ on one wash: a standard deviation, as a share of its grain."""

SLOWER = 4.0
"""Patches of the grain's band to one independent patch of what varies slower."""

TILE_MM = 1.27
FINEST_RIM, PALEST_RIM, RIM_LOOK = 5.0, 0.10, 4.0
"""Pixels a mm and ln luminance that a rim needs; how far in from the piece's side it is looked for, in mm."""

LUMINANCE = np.array([0.2126, 0.7152, 0.0722])


@dataclass(frozen=True, slots=True)
class Texture:
    """How a wash lies. Logarithms of luminance, so 0.02 is about 2 %; ``None`` is unknown.

    Attributes
    ----------
    granulation : rms at 0.25 to 1.5 mm, paper's own taken off; ``_up_to`` a limit where it has no figure
    unevenness : rms of what varies slower than 1.5 mm (pooled or streaky washes)
    separation : share of the colour's variation that does not follow its lightness, in the same band; high
        where two paints of a mix part company. 0-1
    granulation_within, unevenness_within, separation_within : their 95 % half widths
    """

    granulation: float | None = None
    granulation_up_to: float | None = None
    granulation_within: float | None = None
    unevenness: float | None = None
    unevenness_within: float | None = None
    separation: float | None = None
    separation_within: float | None = None


@dataclass(frozen=True, slots=True)
class Bare:
    """What bare paper shows of itself in the grain's band, to be taken off a wash: nought where unknown.

    ``grain`` is its rms; ``parted`` and ``whole`` the variances that ``separation`` is a share of.
    """

    grain: float = 0.0
    parted: float = 0.0
    whole: float = 0.0


def bare_texture(paper: Array, pixels_per_mm: float, blur_mm: float = 0.0) -> Bare | None:
    """Judge a piece of bare paper, shape (rows, cols, 3), as ``texture_of`` does a wash; None as there."""
    band = grain_band(paper, pixels_per_mm, blur_mm)
    return None if band is None else Bare(rms(band), *(_parted(paper, pixels_per_mm) or (0.0, 0.0)))


def texture_of(
    piece: Array, pixels_per_mm: float, paper: Bare | None = None, blur_mm: float = 0.0
) -> Texture:
    """Judge the texture of a painted zone.

    Parameters
    ----------
    piece : array, shape (rows, cols, 3), light relative to bare paper, of a flat full-strength zone; in the
        eye's primaries where they are known, since what a camera mixes up moves the grain by a tenth
    pixels_per_mm : of the piece
    paper : what bare paper near by shows at the same scale, if there is any
    blur_mm : the picture's own blur, a standard deviation, where it is known (``softness``)

    Returns
    -------
    Texture; granulation is None where the zone is narrower than 4 mm inside its edges, the picture coarser
    than 3 pixels a millimetre, or softer than the finest grain that counts.
    """
    band = grain_band(piece, pixels_per_mm, blur_mm)
    if band is None:
        return Texture()
    own = rms(band)
    under = Bare() if paper is None else paper
    grain = without_paper(own, under.grain)
    scale = min(pixels_per_mm, MOST_PIXELS_PER_MM)
    patches = max(1.0, band.size / (scale * COARSE_MM) ** 2)
    slow = _slow(piece, pixels_per_mm)
    parted = _separation(piece, pixels_per_mm, under)
    return Texture(
        granulation=grain,
        granulation_within=float(1.96 * np.hypot(own / np.sqrt(2 * patches), CAMERAS_APART * own)),
        unevenness=slow,
        unevenness_within=float(1.96 * slow / np.sqrt(2 * max(1.0, patches / SLOWER))),
        separation=parted,
        separation_within=None
        if parted is None
        else float(1.96 * parted * (1 - parted) * 2 / np.sqrt(patches)),
    )


def steeper(texture: Texture, times: float, doubt: float) -> Texture:
    """Return a texture whose logarithms are so many times greater, and that in doubt by an SD."""

    def wider(value: float | None, within: float | None) -> float | None:
        return (
            None if value is None or within is None else float(np.hypot(times * within, 1.96 * doubt * value))
        )

    def greater(value: float | None) -> float | None:
        return None if value is None else times * value

    return replace(
        texture,
        granulation=greater(texture.granulation),
        granulation_within=wider(texture.granulation, texture.granulation_within),
        unevenness=greater(texture.unevenness),
        unevenness_within=wider(texture.unevenness, texture.unevenness_within),
    )


def grain_band(piece: Array, pixels_per_mm: float, blur_mm: float = 0.0) -> Array | None:
    """Logarithm of luminance between the two ends of the grain's band; None where too small, coarse or soft.

    Finer pictures are averaged down to 6 pixels a millimetre, and the blur is widened to 0.25 mm with the
    picture's own and the pixel's width taken off in quadrature, so that neither matters much.
    """
    if pixels_per_mm < 3.0 or blur_mm >= FINE_MM:
        return None
    small, scale = _to_scale(piece, pixels_per_mm)
    level = np.maximum(small @ LUMINANCE, 1e-4)
    fine = float(np.sqrt(max(0.0, (FINE_MM**2 - blur_mm**2) * scale**2 - PIXEL_SD**2)))
    band = np.log(_blurred(level, fine)) - np.log(_blurred(level, COARSE_MM * scale))
    edge = round(EDGE_MM * scale)
    inner = band[edge : band.shape[0] - edge, edge : band.shape[1] - edge]
    if min(inner.shape) < 2.0 * scale:
        return None
    low, high = np.quantile(inner, [CLIP, 1 - CLIP])
    return np.asarray(np.clip(inner, low, high))


def rms(values: Array) -> float:
    """Root mean square about the mean."""
    return float(np.std(values))


def without_paper(own: float, paper: float) -> float:
    """Take the bare paper's own texture off in quadrature: sqrt(max(0, own^2 - paper^2))."""
    return float(np.sqrt(max(0.0, own**2 - paper**2)))


def graininess(values: Array, tile: int) -> float:
    """Graininess by tiles: the root of the mean of the tiles' variances (n - 1).

    Parameters
    ----------
    values : array, shape (rows, cols), density or any other single measure
    tile : side of a tile in pixels (1.27 mm in the standard); rows and columns left over are not used

    Raises
    ------
    ValueError
        When not one tile fits.
    """
    return float(np.sqrt(np.mean(_tiles(values, tile).var(axis=1, ddof=1))))


def mottle(values: Array, tile: int) -> float:
    """Mottle by tiles: the standard deviation (n - 1) of the tiles' means; 0 for a single tile."""
    means = _tiles(values, tile).mean(axis=1)
    return float(means.std(ddof=1)) if len(means) > 1 else 0.0


def density(piece: Array) -> Array:
    """Optical density, -log10 of luminance, of light relative to paper, (rows, cols, 3) to (rows, cols)."""
    return np.asarray(-np.log10(np.maximum(piece @ LUMINANCE, 1e-4)))


def rim_darkening(piece: Array, pixels_per_mm: float) -> tuple[float, float] | None:
    """How much darker a wash dried at its rim than in its middle, as a difference of ln luminance.

    Parameters
    ----------
    piece : array, shape (rows, cols, 3), light relative to bare paper, from bare paper on the left through
        the whole of a stroke to bare paper on the right
    pixels_per_mm : of the piece

    Returns
    -------
    (value, 95 % half width): over both sides, the mean of 0.2 to 0.7 mm inside the painted edge less the
    middle's; above 0 where pigment gathered, below where the edge was softened. None where the wash is too
    pale, the picture too coarse or the edge not found in most rows.
    """
    depth = -np.log(np.maximum(piece @ LUMINANCE, 1e-4))
    middle = float(np.median(depth[:, depth.shape[1] // 3 : -(depth.shape[1] // 3)]))
    if pixels_per_mm < FINEST_RIM or middle < PALEST_RIM:
        return None
    sides = [_rims(one, middle, pixels_per_mm) for one in (depth, depth[:, ::-1])]
    if min(np.isfinite(side).mean() for side in sides) < 0.7:
        return None
    each = max(1, round(0.5 * pixels_per_mm))
    parts = [side[k : k + each] for side in sides for k in range(0, len(side), each)]
    seen = (part[np.isfinite(part)] for part in parts)
    found = np.array([part.mean() for part in seen if len(part)])
    return float(found.mean()), float(1.96 * found.std(ddof=1) / np.sqrt(len(found)))


def _rims(depth: Array, middle: float, pixels_per_mm: float) -> Array:
    """Return how much deeper each row is just inside its left edge than the middle; NaN for no edge."""
    start, stop = round(0.2 * pixels_per_mm), round(0.7 * pixels_per_mm)
    painted = depth > 0.5 * middle
    first = painted.argmax(1)
    found = painted.any(1) & (first > 0) & (first < round(RIM_LOOK * pixels_per_mm))
    at = np.minimum(first[:, None] + np.arange(start, max(stop, start + 1)), depth.shape[1] - 1)
    return np.where(found, np.take_along_axis(depth, at, axis=1).mean(1) - middle, np.nan)


def _tiles(values: Array, tile: int) -> Array:
    rows, cols = values.shape[0] // tile, values.shape[1] // tile
    if rows == 0 or cols == 0:
        raise ValueError("no tile fits")
    cut = values[: rows * tile, : cols * tile].reshape(rows, tile, cols, tile)
    return np.asarray(cut.transpose(0, 2, 1, 3).reshape(rows * cols, tile * tile))


def _to_scale(piece: Array, pixels_per_mm: float) -> tuple[Array, float]:
    """Average a fine picture down to 6 pixels a millimetre; coarser ones stay."""
    if pixels_per_mm <= MOST_PIXELS_PER_MM:
        return piece, pixels_per_mm
    shrink = MOST_PIXELS_PER_MM / pixels_per_mm
    size = (max(1, round(piece.shape[1] * shrink)), max(1, round(piece.shape[0] * shrink)))
    small: NDArray[np.float64] = np.asarray(
        cv2.resize(piece, size, interpolation=cv2.INTER_AREA), dtype=np.float64
    )
    return small, pixels_per_mm * small.shape[0] / piece.shape[0]


def _blurred(level: Array, sd: float) -> Array:
    if sd < 0.2:
        return level
    return np.asarray(cv2.GaussianBlur(level, (0, 0), sd, borderType=cv2.BORDER_REFLECT), dtype=np.float64)


def _slow(piece: Array, pixels_per_mm: float) -> float:
    """Rms of the logarithm of luminance that varies slower than 1.5 mm, edges left out."""
    small, scale = _to_scale(piece, pixels_per_mm)
    level = np.log(_blurred(np.maximum(small @ LUMINANCE, 1e-4), COARSE_MM * scale))
    edge = round(EDGE_MM * scale)
    return rms(level[edge : level.shape[0] - edge, edge : level.shape[1] - edge])


def _separation(piece: Array, pixels_per_mm: float, under: Bare) -> float | None:
    """Share of all variation in the grain's band that is of a*, b* and not foretold by lightness.

    What bare paper shows of both is taken off: coloured noise of the picture is no separation.
    """
    own = _parted(piece, pixels_per_mm)
    if own is None:
        return None
    left, whole = max(own[0] - under.parted, 0.0), max(own[1] - under.whole, 0.0)
    return min(1.0, left / whole) if whole > 1e-9 else 0.0


def _parted(piece: Array, pixels_per_mm: float) -> tuple[float, float] | None:
    """Variance of a*, b* that lightness does not foretell, and of L*, a*, b*, in the grain's band."""
    small, scale = _to_scale(piece, pixels_per_mm)
    lab = xyz_to_lab(linear_srgb_to_xyz(np.maximum(_blurred(small, FINE_MM * scale), 1e-4)))
    band = lab - _blurred(lab, COARSE_MM * scale)
    edge = round(EDGE_MM * scale)
    inner = band[edge : band.shape[0] - edge, edge : band.shape[1] - edge].reshape(-1, 3)
    if len(inner) < 50:
        return None
    inner = inner - inner.mean(0)
    light, colour = inner[:, :1], inner[:, 1:]
    power = float((light**2).sum())
    left = colour - light @ (light.T @ colour) / max(power, 1e-12)
    return float((left**2).sum()) / len(inner), (power + float((colour**2).sum())) / len(inner)
