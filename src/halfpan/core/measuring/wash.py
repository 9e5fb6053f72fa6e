"""How every wash of a sheet lies: granulation, evenness, its rim, and paints that part company.

Pieces are seen in the eye's own primaries where the device is known, the bare paper's texture taken off.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, replace

import numpy as np

from halfpan.core.chart.sheet import Box, Page, Rect
from halfpan.core.measuring.faint import (
    LEAST_MM,
    SMOOTHED_PX,
    figure_or_limit,
    given_back,
    pixels_apart,
    smoothed_mm,
)
from halfpan.core.measuring.light import bare_squares
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import Response, true_light
from halfpan.core.measuring.seen import Seen, coarser, flat_piece
from halfpan.core.measuring.softness import blur_mm
from halfpan.core.measuring.steepness import steepness
from halfpan.core.measuring.texture import (
    LUMINANCE,
    Bare,
    Texture,
    bare_texture,
    grain_band,
    rim_darkening,
    rms,
    steeper,
    texture_of,
)
from halfpan.core.measuring.veil import without_veil
from halfpan.core.paint.reading import Swatch

PIXELS_PER_MM = 6.0
PAPERS = 5
BESIDE_MM = 1.2


@dataclass(frozen=True, slots=True, eq=False)
class _Paper:
    """Bare paper as this picture shows it: a plain piece and its texture, where there is any, and its noise.

    ``apart`` is how far its pixels differ from their neighbours; None where smoothing does not matter.
    """

    scale: float
    blur_mm: float
    piece: Array | None
    bare: Bare | None
    apart: float | None


def with_texture(
    seen: Seen, page: Page, swatches: Iterable[Swatch], response: Response, veils: Mapping[str, float]
) -> tuple[Swatch, ...]:
    """Return the swatches with texture and edges filled in, where the picture is fine enough to tell them.

    ``veils`` is what lies over each box like a veil, as a share of the light of bare paper: it makes a wash
    look flatter and is taken off.
    """
    near = coarser(seen, PIXELS_PER_MM)
    scale = min(near.flattening.pixels_per_mm, PIXELS_PER_MM)

    def piece(rect: Rect, veil: float = 0.0) -> Array:
        return true_light(response, without_veil(_whole(flat_piece(near, rect, scale)), np.array(veil)))

    boxes = {box.box: box for box in page.boxes if box.zone("masstone") is not None}
    squares = _some(bare_squares(page))
    blur = blur_mm(seen.photo, seen.flattening, page) or 0.0
    paper = _paper_of([piece(square) for square in squares], _apart(seen, squares), scale, blur)
    filled = []
    for swatch in swatches:
        zone = boxes[swatch.box].zone("masstone")
        assert zone is not None
        apart = None if paper.apart is None else next(iter(_apart(seen, [zone.rect])), None)
        veil = veils[swatch.box]
        texture = _texture(piece(zone.rect, veil), paper, apart, seen.flattening.pixels_per_mm, response)
        across = _across(boxes[swatch.box], zone.rect)
        rim = rim_darkening(piece(across, veil), scale) if across is not None else None
        edge, edge_within = rim if rim is not None else (None, None)
        filled.append(replace(swatch, **asdict(texture), edge=edge, edge_within=edge_within))
    return tuple(filled)


def _texture(
    flat: Array, paper: _Paper, apart: float | None, pixels_per_mm: float, response: Response
) -> Texture:
    """Return the texture of a wash, free of the picture's smoothing and of a bend of its tone.

    ``apart`` is None where smoothing does not matter; ``pixels_per_mm`` are the whole picture's.
    """
    texture = texture_of(flat, paper.scale, paper.bare, paper.blur_mm)
    times, doubt = steepness(response, float(np.median(flat @ LUMINANCE)))
    if apart is None or paper.apart is None:
        return steeper(texture, times, doubt)
    lost = smoothed_mm(apart, paper.apart, pixels_per_mm)
    texture, added = given_back(texture, flat, paper.piece, paper.scale, blur_mm=paper.blur_mm, lost_mm=lost)
    put_right = added + abs(times - 1.0)
    return figure_or_limit(steeper(texture, times, doubt), put_right, apart, paper.apart)


def _across(box: Box, zone: Rect) -> Rect | None:
    """Return the zone widened to bare paper on both sides of its stroke; None where no stroke is known."""
    for stroke in box.strokes:
        if stroke.towards is None and stroke.rect.overlaps(zone):
            rect = stroke.rect
            return Rect(rect.x - BESIDE_MM, zone.y, rect.width + 2 * BESIDE_MM, zone.height)
    return None


def _some(squares: list[Rect]) -> list[Rect]:
    return squares[:: max(1, len(squares) // PAPERS)]


def _paper_of(pieces: list[Array], apart: list[float], scale: float, blur: float) -> _Paper:
    """Return bare paper by the piece whose grain is the middle one of a few."""
    found = [(rms(band), k) for k, p in enumerate(pieces) if (band := grain_band(p, scale, blur)) is not None]
    plain = pieces[sorted(found)[len(found) // 2][1]] if found else None
    bare = None if plain is None else bare_texture(plain, scale, blur)
    return _Paper(scale, blur, plain, bare, float(np.median(apart)) if apart else None)


def _apart(seen: Seen, rects: list[Rect]) -> list[float]:
    """How far the pixels of some pieces differ from their neighbours; none where that does not matter."""
    if SMOOTHED_PX / seen.flattening.pixels_per_mm < LEAST_MM:
        return []
    found = (pixels_apart(seen.photo, seen.flattening, rect) for rect in rects)
    return [one for one in found if one is not None]


def _whole(piece: Array) -> Array:
    """Fill places outside the picture with the piece's own middle."""
    outside = np.isnan(piece)
    return np.where(outside, np.nanmedian(piece, axis=(0, 1)), piece) if outside.any() else piece
