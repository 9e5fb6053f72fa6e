"""Verbs of ``halfpan paints`` about order: which next to which, where a new one goes, ranges side by side."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, now, opened, put_json, put_text, say, several
from halfpan.cli.paint_likeness import PaintName, shown_names
from halfpan.cli.table import put_table

app = typer.Typer()


@app.command("order")
def order(
    ctx: typer.Context,
    *,
    neutral: Annotated[float, typer.Option(help="Chroma below which a paint is a grey.")] = 14.0,
    as_json: AsJson = False,
) -> None:
    """Propose an order: brights by hue, earths, greys, blacks, whites; and name odd neighbours."""
    from halfpan.core.arranging.order import FAMILY_WORDS, OrderRule
    from halfpan.studio.likeness_document import order_to_dict
    from halfpan.studio.order_paints import order_paints

    with opened(ctx) as studio:
        ordered = order_paints(studio, OrderRule(neutral_chroma=neutral))
    if as_json:
        put_json(order_to_dict(ordered))
        return
    named = shown_names(ordered.paints)
    rows = [(FAMILY_WORDS[p.family], named[p.paint], p.basis) for p in ordered.proposed]
    put_table("", ["family", "paint", "by"], rows)
    if ordered.own:
        say("You have laid out an order of your own; it stays as it is. Odd neighbours are those in it.")
    for odd in ordered.odd:
        told = f"{named[odd.left]} and {named[odd.right]}: ΔE {odd.step:.0f} where {odd.usual:.0f} is usual."
        if odd.move:
            before = named[odd.move.before] if odd.move.before else "the beginning"
            told += f" {named[odd.move.paint]} may stand better after {before}."
        put_text(told)


@app.command("place")
def place(ctx: typer.Context, paint: PaintName, *, as_json: AsJson = False) -> None:
    """Say where a new paint goes, between which two, and the least to repaint on each chart."""
    from halfpan.studio.likeness_document import place_to_dict
    from halfpan.studio.order_paints import place_paint

    with opened(ctx) as studio:
        placed = place_paint(studio, paint)
    gap = placed.gap
    if as_json:
        put_json(place_to_dict(placed))
        return
    named = shown_names(placed.paints)
    sides = [named[one] for one in (gap.before, gap.after) if one]
    between = " and ".join(sides) or "no others yet"
    put_text(f"{placed.paint.name}: {'between' if len(sides) == 2 else 'beside'} {between} (by {gap.basis}).")
    if placed.repaints:
        rows = [(one.chart, one.fewest, one.in_place, one.how) for one in placed.repaints]
        put_table("Charts out of date", ["chart", "boxes at least", "in its place", ""], rows)


@app.command("compare-ranges")
def compare_ranges(
    ctx: typer.Context,
    names: Annotated[list[str], typer.Argument(metavar="RANGE [RANGE]", help="Maker, or maker and range.")],
    *,
    as_json: AsJson = False,
) -> None:
    """Look at a range at a glance, or at two side by side with each paint's counterpart."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.compare_ranges import compare_ranges as compared

    with opened(ctx) as studio:
        found = compared(studio, *names)
    if as_json:
        put_json({"ranges": answer_to_document(found.ranges)})
        return
    named = shown_names(found.paints)
    for seen in found.ranges:
        rows = [(c.question, c.witness, c.yes, c.no, c.unknown) for c in seen.glance.counts]
        title = f"{seen.name}: {seen.glance.paints} paints, {seen.glance.read} read"
        put_table(title, ["", "by", "yes", "no", "unknown"], rows, right=["yes", "no", "unknown"])
        put_text(f"{several(len(seen.glance.crowds), 'pair')} that cannot be told apart.")
        for gap in seen.glance.gaps:
            put_text(
                f"Nothing between {named[gap.first]} and {named[gap.second]} ({gap.degrees:.0f}° of hue)."
            )
        if seen.counterparts:
            matched = [
                (named[c.paint], named[c.other] if c.other else None,
                 None if c.distance is None else f"{c.distance:.1f}", "; ".join(c.differs))
                for c in seen.counterparts
            ]  # fmt: skip
            put_table("", ["paint", "its nearest there", "ΔE", "what differs"], matched, right=["ΔE"])


@app.command("report")
def report(
    ctx: typer.Context,
    *,
    out: Annotated[Path, typer.Option(metavar="FILE", help="The page to write.")] = Path("paints.html"),
    as_json: AsJson = False,
) -> None:
    """Write order, disagreements, likeness, labels and cautions as one page that can be sent."""
    from halfpan.studio.report_paints import report_paints

    with opened(ctx) as studio:
        written = report_paints(studio, out, now=now())
    if as_json:
        put_json({"report": str(written)})
    else:
        put_text(f"Written: {written}")
