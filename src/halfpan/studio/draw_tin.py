"""Pictures of a tin: its map with true crops, the hue ring, the reach in slices."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from halfpan.core.arranging.ring import OnRing, RingGap, on_ring, ring_gaps
from halfpan.files.drawing import Pan, hue_ring, reach_slices, tin_map
from halfpan.files.whole import write_whole
from halfpan.studio.lay_tin import show_tin
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.paint_names import names_of
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.pan_crops import pan_crops
from halfpan.studio.see_gaps import GapsSeen, see_gaps
from halfpan.studio.studio import Studio


def draw_tin(studio: Studio, named: str) -> str:
    """Return the map of a tin as SVG, with the painter's own boxes in it where their photos are kept."""
    tin, paints = show_tin(studio, named)
    crops, counting = pan_crops(studio, tin.paints)
    pans = {
        seat: Pan(
            paints[one.paint].name,
            " ".join(paints[one.paint].codes),
            one.locked,
            crops.get(one.paint),
            counting[one.paint].swatch.masstone if one.paint in counting else None,
        )
        for seat, one in tin.held.items()
        if one.paint in paints
    }
    return tin_map(tin.tin, pans)


@dataclass(frozen=True, slots=True)
class RingSeen:
    """Where paints stand on the hue ring, and the stretches where none stands; ``names`` by id."""

    ring: tuple[OnRing, ...]
    gaps: tuple[RingGap, ...]
    names: dict[str, str]


def draw_ring(studio: Studio, which: str = "all") -> tuple[str, RingSeen]:
    """Return the hue ring of a tin, a list or everything owned, as SVG, and what it shows."""
    with studio.look() as db:
        offered = offered_paints(db, which)
        ring = on_ring(painted_paints(db, offered))
    seen = RingSeen(ring, ring_gaps(ring), names_of(offered))
    return hue_ring(seen.ring, seen.gaps, seen.names), seen


def draw_reach(studio: Studio, which: str = "all", *, paper: str = "") -> tuple[str, GapsSeen]:
    """Return what a tin or list reaches, in slices of lightness, as SVG, and the gaps it shows."""
    seen = see_gaps(studio, which, paper=paper)
    table = seen.reaching.table
    mine = table.reached(seen.numbers)
    everything = table.reached(range(table.paints))
    owned = table.reached(seen.reaching.owned()) if seen.wider == "everything owned" else everything
    title = "Everything owned" if which == "all" else which
    return reach_slices(table.cells, mine, owned, title=title, wider=seen.wider), seen


def write_picture(path: Path, svg: str) -> None:
    """Write a picture; the file is whole or not there at all."""
    write_whole(path, svg.encode())
