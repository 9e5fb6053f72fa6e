"""The painter's own boxes for the pans of a tin, as pictures, where their photos are kept."""

from __future__ import annotations

from collections.abc import Iterable

from halfpan.collection import swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.errors import UnreadablePhoto
from halfpan.studio.cut_crops import crop_file
from halfpan.studio.studio import Studio


def pan_crops(studio: Studio, paints: Iterable[str]) -> tuple[dict[str, bytes], dict[str, KeptSwatch]]:
    """Return the crops and the swatches that count, by paint; a photo that is gone gives no crop."""
    wanted = set(paints)
    with studio.look() as db:
        counting = {key: kept for key, kept in swatches.counting(db).items() if key in wanted}
    crops = {}
    for paint, kept in counting.items():
        if kept.page_read is not None:
            try:
                crops[paint] = crop_file(studio, kept.page_read, kept.swatch.box).read_bytes()
            except UnreadablePhoto:
                continue
    return crops, counting
