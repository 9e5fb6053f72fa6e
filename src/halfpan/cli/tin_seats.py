"""How ``halfpan tin`` shows who sits where, and which sheets no longer match."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from halfpan.cli.frame import say
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from halfpan.collection.tins import KeptTin
    from halfpan.core.paint.paint import Paint
    from halfpan.studio.follow_tin import Stale

TinName = Annotated[str, typer.Argument(metavar="TIN", help="The tin's name or number.")]


def show_seats(kept: KeptTin, paints: Mapping[str, Paint]) -> None:
    """Answer with a tin seat by seat."""
    from halfpan.collection.tins import Held

    rows = []
    for one in kept.tin.seats:
        held = kept.held.get(one.name, Held())
        paint = paints.get(held.paint or "")
        rows.append(
            (
                one.name,
                one.size or "blank",
                paint.name if paint else "",
                " ".join(paint.codes) if paint else "",
                "locked" if held.locked else "",
            )
        )
    put_table(kept.name, ["seat", "size", "paint", "codes", "lock"], rows)


def say_stale(stale: Sequence[Stale]) -> None:
    """Tell which charts and lid cards no longer match."""
    for one in stale:
        boxes = ", ".join(moved.box for moved in one.moved)
        say(f"The {one.kind} {one.chart} “{one.title}” no longer matches in {boxes}.")
