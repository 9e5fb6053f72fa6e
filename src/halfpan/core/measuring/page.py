"""Measure a page: from a picture and the chart's geometry to named readings with their doubt.

``see_page`` finds the sheet and its light, ``respond`` settles what the device makes of colour, and
``read_boxes`` reads every painted box. ``measure_page`` does the three.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from halfpan.core.chart.sheet import Box, Page
from halfpan.core.measuring.boxes import read_boxes
from halfpan.core.measuring.flatten import Flattening, flatten, to_paper, to_picture
from halfpan.core.measuring.light import (
    Cells,
    LightField,
    bare_cells,
    light_field,
    reach,
    tint_range,
)
from halfpan.core.measuring.locate import FIRST_LOOK, Located, locate
from halfpan.core.measuring.looks import look
from halfpan.core.measuring.patches import Patches
from halfpan.core.measuring.photo import Array, Photo, light_at, reduced
from halfpan.core.measuring.raster import CELL_MM
from halfpan.core.measuring.response import Response, usual_prior, without_patches
from halfpan.core.measuring.response_fit import fit_response
from halfpan.core.measuring.sample import take
from halfpan.core.measuring.seen import Seen
from halfpan.core.paint.reading import Lab, SheetRead, Tier
from halfpan.errors import UnreadablePhoto

LEAST_TINT = 0.005
"""How far the colour of even light may differ between a sheet and a target beside it, as a logarithm."""

FEWEST_PATCHES = 4
"""Fewer patches or known paints than this are not leant on."""

Reference = Patches | Mapping[str, Lab]


def measure_page(
    photo: Photo,
    page: Page,
    *,
    reference: Reference | None = None,
    paper: Lab | None = None,
    device: Response | None = None,
    blank: Photo | None = None,
    located: Located | None = None,
    sheet: tuple[float, float] | None = None,
) -> SheetRead:
    """Read every painted box of a page.

    Parameters
    ----------
    photo : Photo
    page : Page
    reference : patches of a target in the picture, or the colours of boxes measured better before, by box
    paper : the paper's own white, where it was measured
    device : how this device answered before a target (``respond``)
    blank : a picture of a blank sheet from the same place in the same light
    located : the marks, where they were looked for already
    sheet : width and height of the sheet in mm

    Raises
    ------
    UnreadablePhoto
        When the sheet cannot be found or nothing on it can be promised.
    """
    seen = see_page(photo, page, located=located, blank=blank, sheet=sheet)
    response = respond(seen, page, reference=reference, paper=paper, device=device)
    return read_boxes(seen, page, response)


def see_page(
    photo: Photo,
    page: Page,
    *,
    located: Located | None = None,
    flattening: Flattening | None = None,
    blank: Photo | None = None,
    sheet: tuple[float, float] | None = None,
) -> Seen:
    """Find the sheet in the picture and the light on it.

    Parameters are those of ``measure_page``; ``flattening`` stands in for marks on sheets that have none,
    and such a sheet may be without bare paper too (its light is then taken as even).
    """
    if flattening is None:
        found = locate(photo, code=False) if located is None else located
        flattening = flatten(page, found.marks, photo.shape, photo.name)
    kept = located.small if located is not None else None
    small, scale = reduced(photo, FIRST_LOOK) if kept is None else kept
    cells = bare_cells(small, page, flattening, scale=scale, sheet=sheet)
    if blank is not None:
        return Seen(photo, flattening, _lit_by(cells, blank, flattening, photo), (small, scale))
    if not page.marks and len(cells.points) < 60:
        return Seen(photo, flattening, None)
    return Seen(photo, flattening, light_field(cells, photo.name), (small, scale))


def _lit_by(cells: Cells, blank: Photo, flattening: Flattening, photo: Photo) -> LightField:
    """Light field over what a blank sheet showed at the same places."""
    if blank.shape != photo.shape:
        raise UnreadablePhoto(
            f"The blank sheet's picture ({blank.name}) has another size than {photo.name}; both must "
            "come from the same camera at the same place."
        )
    small, scale = reduced(blank, 400)

    def given(points: Array) -> Array:
        light, _ = light_at(small, (to_picture(flattening, points) + 0.5) * scale - 0.5)
        return np.nan_to_num(np.maximum(light, 1e-4), nan=1.0)

    field = light_field(replace(cells, light=cells.light / given(cells.points)), photo.name)
    rows, cols = np.mgrid[: field.surface.shape[0], : field.surface.shape[1]]
    raster = np.stack([cols, rows], axis=-1) * CELL_MM + field.origin
    return replace(field, surface=field.surface + np.log(given(raster)))


def respond(
    seen: Seen,
    page: Page,
    *,
    reference: Reference | None = None,
    paper: Lab | None = None,
    device: Response | None = None,
) -> Response:
    """Settle what the device makes of colour in this picture, from the best evidence there is."""
    prior = usual_prior(paper, device=device)
    tier: Tier
    if isinstance(reference, Patches):
        patches, tier = reference, "target"
        points = to_paper(seen.flattening, patches.places)
    elif reference:
        patches, tier = _known_paints(seen, page.boxes, reference), "known paints"
        points = to_paper(seen.flattening, patches.places)
    else:
        return without_patches(prior, "paper" if seen.field is not None else "none")
    if int((patches.clipped <= 0.3).sum()) < FEWEST_PATCHES:
        return without_patches(prior, "paper" if seen.field is not None else "none")
    if tier == "known paints" or seen.field is None:
        relative, apart, tint = patches.light, 0.0, 0.5
    else:
        plane, bowl = reach(seen.field, points)
        relative = patches.light / np.sqrt(plane * bowl)
        apart = float(np.abs(np.log(plane / bowl)).max())
        tint = LEAST_TINT + tint_range(seen.field)
    return fit_response(
        patches, relative, prior, tier=tier, points=points, light_doubt=apart, tint_doubt=tint
    )


def _known_paints(seen: Seen, boxes: tuple[Box, ...], known: Mapping[str, Lab]) -> Patches:
    """Masstones of boxes whose colour is known already, as patches; their light is relative to paper."""
    chosen = [(b, z) for b in boxes if b.box in known and (z := b.zone("masstone")) is not None]
    samples = take(look(seen.photo, seen.flattening, seen.field, [z for _, z in chosen]))
    middles = np.array([s.middle for s in samples]).reshape(-1, 2)
    return Patches(
        light=np.array([s.relative for s in samples]).reshape(-1, 3),
        lab=np.array([known[b.box] for b, _ in chosen], dtype=float).reshape(-1, 3),
        places=to_picture(seen.flattening, middles),
        clipped=np.array([max(s.high.max(), s.low.max()) for s in samples]),
        names=tuple(b.box for b, _ in chosen),
    )
