"""Read the boxes of a sheet that was seen: every painted zone a reading, every painted box a swatch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from halfpan.core.chart.sheet import Box, Page, Zone
from halfpan.core.colour.difference import delta_e_2000, metric_2000
from halfpan.core.colour.screen import outside_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.black import even_veil
from halfpan.core.measuring.doubt import Doubt, doubt_of, luminance_doubt
from halfpan.core.measuring.flatten import beyond_marks
from halfpan.core.measuring.hiding import hiding
from halfpan.core.measuring.looks import look
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import Response, correct, light_slopes
from halfpan.core.measuring.sample import LUMINANCE, Sample, flags_of, samples_of
from halfpan.core.measuring.seen import Seen
from halfpan.core.measuring.strength import MID, TINT, state_on_path, value_range
from halfpan.core.measuring.veil import LITTLE, Beside, Veil, hidden, veil_at, without_veil
from halfpan.core.measuring.wash import with_texture
from halfpan.core.paint.reading import Lab, Light, Reading, SheetRead, Swatch, Unread

UNPAINTED_DELTA_E = 2.5
UNPAINTED_LIFT = 0.015
FEWEST_PIXELS = 30
BURNT_HIDES = 0.5
BEYOND_MM = 12.0
COVERED_LOG = 0.25
"""Bare paper beside a box that differs so far from the sheet's, as a logarithm, is covered."""

PATH = "graded"
NO_ZONE = "This box has no zone to read."


@dataclass(frozen=True, slots=True, eq=False)
class _Taken:
    """The samples of one sheet, with the box and zone each belongs to, and the veil over each."""

    boxes: list[Box]
    zones: list[Zone]
    samples: list[Sample]
    steps: list[int]
    veil: Veil


@dataclass(frozen=True, slots=True, eq=False)
class _Colours:
    """What the samples are as colours; ``luminance`` Y, ``outside`` how far outside the screen's range.

    ``relative`` is what is left once ``veil`` (n,), a share of the light of bare paper, was taken off.
    """

    veil: Array
    relative: Array
    lab: Array
    luminance: Array
    outside: Array
    doubt: Doubt
    spread: Array


def read_boxes(seen: Seen, page: Page, response: Response) -> SheetRead:
    """Read every painted box.

    A box that was left unpainted, or that cannot be promised, is given as ``Unread`` with the reason; a
    spare box without paint is passed over in silence.
    """
    taken = _take_all(seen, page, response.beside)
    light = Light(response.tier, response.check)
    if not taken.samples:
        return SheetRead(light, (), tuple(Unread(b.box, NO_ZONE) for b in page.boxes), ())
    colours = _colours(taken, response, seen)
    paper = response.mean[18:21]
    readings: list[Reading] = []
    unread: list[Unread] = []
    swatches: list[Swatch] = []
    for box in page.boxes:
        mine = [k for k, b in enumerate(taken.boxes) if b is box]
        reason = _unseen(box, mine, taken, seen) or _why_unread(mine, taken, colours, paper)
        if reason is None:
            read, swatch = _one_box(box, mine, taken, colours, response)
            readings += read
            swatches += [swatch] if swatch is not None else []
        elif box.paint is not None or not reason.startswith("Nothing"):
            unread.append(Unread(box.box, reason))
    over = zip(taken.boxes, taken.zones, colours.veil, strict=True)
    veils = {box.box: float(veil) for box, zone, veil in over if zone.zone == "masstone"}
    textured = with_texture(seen, page, swatches, response, veils)
    return SheetRead(light, tuple(readings), tuple(unread), textured)


def _take_all(seen: Seen, page: Page, beside: Beside | None) -> _Taken:
    pairs = [(box, zone) for box in page.boxes for zone in box.zones]
    looks = look(seen.photo, seen.flattening, seen.field, [zone for _, zone in pairs])
    boxes: list[Box] = []
    zones: list[Zone] = []
    samples: list[Sample] = []
    steps: list[int] = []
    for (box, zone), found in zip(pairs, samples_of([zone for _, zone in pairs], looks), strict=True):
        for k, sample in enumerate(found):
            boxes.append(box)
            zones.append(zone)
            samples.append(sample)
            steps.append(k)
    return _Taken(boxes, zones, samples, steps, _veil(zones, samples, beside))


def _veil(zones: list[Zone], samples: list[Sample], beside: Beside | None) -> Veil:
    """Veil over each sample, from the bare ends of the black line all over the sheet."""
    middles = np.array([s.middle for s in samples])
    lines = np.array([z.zone == "bare line" and s.count > 0 for z, s in zip(zones, samples, strict=True)])
    levels = np.array([float(s.relative @ LUMINANCE) for s in samples])
    return veil_at(middles[lines], levels[lines], middles, beside)


def _colours(taken: _Taken, response: Response, seen: Seen) -> _Colours:
    raw, share = np.stack([s.relative for s in taken.samples]), taken.veil.share
    relative = np.nan_to_num(without_veil(raw, share[:, None]), nan=1.0)
    if response.beside is not None:
        even = _evenly(taken, relative, response, seen)
        relative, share = without_veil(relative, even), 1.0 - (1.0 - share) * (1.0 - even)
    lab = correct(response, relative)
    doubt = doubt_of(response, lab, relative, samples=taken.samples, field=seen.field, veil=taken.veil)
    by_light = light_slopes(response, relative)
    scatter = np.nan_to_num(np.stack([s.spread for s in taken.samples]))
    moved = np.einsum("nij,njk,nk->nik", metric_2000(lab), by_light, scatter)
    spread = np.sqrt((moved**2).sum((1, 2)) / 3)
    return _Colours(share, relative, lab, lab_to_xyz(lab)[:, 1], outside_srgb(lab), doubt, spread)


def _evenly(taken: _Taken, relative: Array, response: Response, seen: Seen) -> Array:
    """Veil that lies evenly over the sheet, by its black line and the washes over it."""
    clear = (taken.veil.share <= LITTLE) & np.array([s.count > 0 for s in taken.samples])
    named = {(b.box, z.zone): k for k, (b, z) in enumerate(zip(taken.boxes, taken.zones, strict=True))}
    line = [k for (_, zone), k in named.items() if zone == "bare line" and clear[k]]
    pairs = [(named.get((box, "masstone")), k) for (box, zone), k in named.items() if zone == "black line"]
    over = [(strong, k) for strong, k in pairs if strong is not None and clear[strong] and clear[k]]
    paper, black = (np.array([pair[side] for pair in over], dtype=int) for side in (0, 1))
    lab, veil = correct(response, relative[line]), Veil(taken.veil.share[line], taken.veil.doubt[line])
    samples = [taken.samples[k] for k in line]
    doubt = doubt_of(response, lab, relative[line], samples=samples, field=seen.field, veil=veil)
    even = even_veil(
        response,
        relative[line],
        relative[paper],
        relative[black],
        doubt=luminance_doubt(lab, doubt),
        noise=taken.veil.doubt[black],
    )
    return np.array(even)


def _unseen(box: Box, mine: list[int], taken: _Taken, seen: Seen) -> str | None:
    """Say why a box cannot be trusted to be in sight: beyond the marks, or its bare paper is not bare."""
    middles = [taken.samples[k].middle for k in mine]
    if max((beyond_marks(seen.flattening, m) for m in middles), default=0.0) > BEYOND_MM:
        return "This box lies beyond the corner marks that could be seen."
    for k in mine:
        paper = taken.samples[k].relative
        if taken.zones[k].zone == "bare" and seen.field is not None and taken.samples[k].count:
            apart = np.abs(np.log(np.maximum(paper, 1e-3)))
            if apart.max() > COVERED_LOG:
                return f"Something lies over the bare paper beside box {box.box}."
    return None


def _why_unread(mine: list[int], taken: _Taken, colours: _Colours, paper: Array) -> str | None:
    named = {taken.zones[k].zone: k for k in reversed(mine)}
    flat = [k for k in mine if not taken.zones[k].zone.startswith("bare") and taken.steps[k] == 0]
    if not flat:
        return NO_ZONE
    first = named.get("masstone", flat[0])
    sample = taken.samples[first]
    if sample.count < FEWEST_PIXELS:
        return "Too few pixels of this box are in the picture."
    if sample.burnt > BURNT_HIDES:
        return "This box is burnt out in the picture."
    if hidden(taken.veil)[first]:
        return "Glare lies over this box."
    if _unpainted(named, mine, taken, colours, paper):
        return "Nothing seems to be painted in this box."
    return None


def _unpainted(
    named: dict[str, int], mine: list[int], taken: _Taken, colours: _Colours, paper: Array
) -> bool:
    """Nothing differs from bare paper, and the black line is as black as where it is bare."""
    on_paper = [k for k in mine if taken.zones[k].ground == "paper" and taken.zones[k].zone != "bare"]
    if on_paper and float(delta_e_2000(colours.lab[on_paper], paper).max()) > UNPAINTED_DELTA_E:
        return False
    on_black = [k for k in mine if taken.zones[k].ground == "black"]
    line = named.get("bare line")
    if on_black and line is not None:
        lift = colours.relative[on_black] @ LUMINANCE - colours.relative[line] @ LUMINANCE
        return bool(np.abs(lift).max() < UNPAINTED_LIFT)
    return True


def _one_box(
    box: Box, mine: list[int], taken: _Taken, colours: _Colours, response: Response
) -> tuple[list[Reading], Swatch | None]:
    flat = [k for k in mine if taken.zones[k].towards is None and not taken.zones[k].zone.startswith("bare")]
    readings = [
        Reading(
            box=box.box,
            paint=box.paint,
            zone=taken.zones[k].zone,
            lab=_lab(colours.lab[k]),
            within_delta_e00=float(colours.doubt.radius[k]),
            tier=response.tier,
            flags=flags_of(taken.samples[k], float(colours.outside[k])),
            spread=float(colours.spread[k]),
            count=taken.samples[k].count,
        )
        for k in flat
    ]
    named = {taken.zones[k].zone: k for k in reversed(mine)}
    if "masstone" not in named:
        return readings, None
    strong = named["masstone"]
    path = [k for k in mine if taken.zones[k].zone == PATH]
    paper = response.mean[18:21]
    states = {
        name: state_on_path(colours.lab[path], colours.lab[strong], paper, left) if path else None
        for name, left in (("mid", MID), ("tint", TINT))
    }
    for name, lab in states.items():
        if lab is not None:
            nearest = path[int(np.argmin(delta_e_2000(colours.lab[path], lab)))]
            readings.append(
                Reading(
                    box=box.box,
                    paint=box.paint,
                    zone=name,
                    lab=_lab(lab),
                    within_delta_e00=float(colours.doubt.radius[nearest]),
                    tier=response.tier,
                    flags=(),
                    spread=float(colours.spread[nearest]),
                    count=taken.samples[nearest].count,
                )
            )
    return readings, _swatch(box, readings, named, states, path, colours=colours, paper=paper)


def _swatch(
    box: Box,
    readings: list[Reading],
    named: dict[str, int],
    states: dict[str, Array | None],
    path: list[int],
    *,
    colours: _Colours,
    paper: Array,
) -> Swatch:
    strong = named["masstone"]
    hides = None
    if "black line" in named and "bare line" in named:
        luminance = colours.luminance
        dy = luminance_doubt(colours.lab, colours.doubt)[[strong, named["black line"]]]
        hides = hiding(
            float(luminance[strong]),
            float(luminance[named["black line"]]),
            float(lab_to_xyz(paper)[1]),
            float(luminance[named["bare line"]]),
            doubt=(float(dy[0]), float(dy[1])),
        )
    seen = [r.within_delta_e00 for r in readings if r.zone in {"masstone", "mid", "tint"}]
    mid, tint = states["mid"], states["tint"]
    return Swatch(
        box=box.box,
        paint=box.paint,
        name=box.label,
        masstone=_lab(colours.lab[strong]),
        mid=None if mid is None else _lab(mid),
        tint=None if tint is None else _lab(tint),
        within_delta_e00=max(seen),
        value_range=value_range(colours.lab[strong], paper),
        value_range_within=float(1.96 * np.sqrt(colours.doubt.covariance[strong, 0, 0])),
        contrast_ratio=None if hides is None else hides.contrast_ratio,
        contrast_ratio_within=None if hides is None else hides.contrast_ratio_within,
        transparency=None if hides is None else hides.word,
        path=tuple(_lab(colours.lab[k]) for k in path),
    )


def _lab(values: Array) -> Lab:
    L, a, b = (float(v) for v in values)
    return (L, a, b)
