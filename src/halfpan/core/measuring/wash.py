"""How every wash of a sheet lies: granulation, evenness, its rim, and paints that part company.

Pieces are seen in the eye's own primaries where the device is known, the bare paper's texture taken off.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, replace

import numpy as np

from halfpan.core.chart.sheet import Box, Page, Rect
from halfpan.core.measuring.light import bare_squares
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import Response, true_light
from halfpan.core.measuring.seen import Seen, coarser, flat_piece
from halfpan.core.measuring.softness import blur_mm
from halfpan.core.measuring.steepness import steepness
from halfpan.core.measuring.texture import (
    LUMINANCE,
    Bare,
    bare_texture,
    rim_darkening,
    steeper,
    texture_of,
)
from halfpan.core.paint.reading import Swatch

PIXELS_PER_MM = 6.0
PAPERS = 5
BESIDE_MM = 1.2


def with_texture(
    seen: Seen, page: Page, swatches: Iterable[Swatch], response: Response
) -> tuple[Swatch, ...]:
    """Return the swatches with texture and edges filled in, where the picture is fine enough to tell them."""
    near = coarser(seen, PIXELS_PER_MM)
    scale = min(near.flattening.pixels_per_mm, PIXELS_PER_MM)
    blur = blur_mm(seen.photo, seen.flattening, page) or 0.0

    def piece(rect: Rect) -> Array:
        return true_light(response, _whole(flat_piece(near, rect, scale)))

    boxes = {box.box: box for box in page.boxes if box.zone("masstone") is not None}
    paper = _plain_paper([piece(square) for square in _some(bare_squares(page))], scale, blur)
    filled = []
    for swatch in swatches:
        zone = boxes[swatch.box].zone("masstone")
        assert zone is not None
        flat = piece(zone.rect)
        steep = steepness(response, float(np.median(flat @ LUMINANCE)))
        texture = steeper(texture_of(flat, scale, paper, blur), *steep)
        across = _across(boxes[swatch.box], zone.rect)
        rim = rim_darkening(piece(across), scale) if across is not None else None
        edge, edge_within = rim if rim is not None else (None, None)
        filled.append(replace(swatch, **asdict(texture), edge=edge, edge_within=edge_within))
    return tuple(filled)


def _across(box: Box, zone: Rect) -> Rect | None:
    """Return the zone widened to bare paper on both sides of its stroke; None where no stroke is known."""
    for stroke in box.strokes:
        if stroke.towards is None and stroke.rect.overlaps(zone):
            rect = stroke.rect
            return Rect(rect.x - BESIDE_MM, zone.y, rect.width + 2 * BESIDE_MM, zone.height)
    return None


def _some(squares: list[Rect]) -> list[Rect]:
    return squares[:: max(1, len(squares) // PAPERS)]


def _plain_paper(pieces: list[Array], scale: float, blur: float) -> Bare | None:
    """Return the texture of the piece of bare paper that is the middle one of a few."""
    found = [bare for piece in pieces if (bare := bare_texture(piece, scale, blur)) is not None]
    return sorted(found, key=lambda bare: bare.grain)[len(found) // 2] if found else None


def _whole(piece: Array) -> Array:
    """Fill places outside the picture with the piece's own middle."""
    outside = np.isnan(piece)
    return np.where(outside, np.nanmedian(piece, axis=(0, 1)), piece) if outside.any() else piece
