"""Granulation of every swatch of a sheet, the bare paper's own texture taken off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from halfpan.core.chart.sheet import Page, Rect
from halfpan.core.measuring.light import bare_squares
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.seen import Seen, coarser, flat_piece
from halfpan.core.measuring.texture import grain_band, rms, texture_of
from halfpan.core.paint.reading import Swatch

PIXELS_PER_MM = 6.0
PAPERS = 5


def with_grain(seen: Seen, page: Page, swatches: Iterable[Swatch]) -> tuple[Swatch, ...]:
    """Return the swatches with granulation filled in, where the picture is fine enough to tell it."""
    near = coarser(seen, PIXELS_PER_MM)
    scale = min(near.flattening.pixels_per_mm, PIXELS_PER_MM)
    zones = {box.box: zone.rect for box in page.boxes if (zone := box.zone("masstone")) is not None}
    paper = _plain_paper(near, bare_squares(page), scale)
    filled = []
    for swatch in swatches:
        texture = texture_of(_whole(flat_piece(near, zones[swatch.box], scale)), scale, paper)
        grain, within = texture.granulation, texture.granulation_within
        filled.append(replace(swatch, granulation=grain, granulation_within=within))
    return tuple(filled)


def _plain_paper(seen: Seen, squares: list[Rect], scale: float) -> Array | None:
    """Cut out the piece of bare paper whose texture is the middle one of a few."""
    step = max(1, len(squares) // PAPERS)
    pieces = [_whole(flat_piece(seen, square, scale)) for square in squares[::step]]
    rough = [(rms(band), k) for k, p in enumerate(pieces) if (band := grain_band(p, scale)) is not None]
    return pieces[sorted(rough)[len(rough) // 2][1]] if rough else None


def _whole(piece: Array) -> Array:
    """Fill places outside the picture with the piece's own middle."""
    return np.where(np.isnan(piece), np.nanmedian(piece, axis=(0, 1)) if piece.size else 1.0, piece)
