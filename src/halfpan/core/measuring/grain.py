"""The texture of a painted box on a sheet that was seen: its flat full-strength zone against bare paper."""

from __future__ import annotations

from halfpan.core.chart.sheet import Box
from halfpan.core.measuring.seen import Seen, flat_piece
from halfpan.core.measuring.texture import MOST_PIXELS_PER_MM, Texture, texture_of


def box_texture(seen: Seen, box: Box, zone: str = "masstone") -> Texture:
    """Judge the texture of one zone of a box, the box's own bare paper taken off.

    Parameters
    ----------
    seen : Seen
    box : Box
    zone : the flat zone to judge

    Returns
    -------
    Texture, all unknown where the box has no such zone or it is too small.
    """
    painted, bare = box.zone(zone), box.zone("bare")
    if painted is None:
        return Texture(None, None, None, None)
    scale = min(MOST_PIXELS_PER_MM, seen.flattening.pixels_per_mm)
    paper = flat_piece(seen, bare.rect, scale) if bare is not None else None
    return texture_of(flat_piece(seen, painted.rect, scale), scale, paper)
