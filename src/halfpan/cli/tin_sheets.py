"""Verbs of ``halfpan tin`` that make something to look at: chart, lid card, map, hue ring, reach."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from halfpan.cli.frame import AsJson, now, opened, put_json, put_text, say, several
from halfpan.cli.tin_seats import TinName

if TYPE_CHECKING:
    from halfpan.core.chart.sheet import Chart

app = typer.Typer()

Which = Annotated[str, typer.Argument(metavar="TIN|all", help="A tin, a list, or all that is owned.")]


@app.command("chart")
def chart(
    ctx: typer.Context,
    tins: Annotated[list[str], typer.Argument(metavar="TIN...", help="Tins, one below the other.")],
    *,
    out: Annotated[Path, typer.Option(help="The PDF to write; its geometry goes beside it.")] = Path(
        "tin-chart.pdf"
    ),
    sheet: Annotated[str, typer.Option(help="A4, “A3 landscape”, letter, or 250x350 in mm.")] = "A4",
    upside_down: Annotated[bool, typer.Option("--upside-down", help="As seen with the tin turned.")] = False,
    as_json: AsJson = False,
) -> None:
    """Rule a swatch chart whose boxes lie as the pans sit."""
    from halfpan.studio.follow_tin import rule_tin_chart

    with opened(ctx) as studio:
        ruled, geometry = rule_tin_chart(studio, tins, out, now=now(), sheet=sheet, upside_down=upside_down)
    _answer(ruled, out, geometry, as_json=as_json)


@app.command("card")
def card(
    ctx: typer.Context,
    tin: TinName,
    *,
    out: Annotated[Path, typer.Option(help="The PDF to write; its geometry goes beside it.")] = Path(
        "lid-card.pdf"
    ),
    sheet: Annotated[str, typer.Option(help="The paper to print on.")] = "A4",
    size: Annotated[str, typer.Option(metavar="WxH", help="Inside of the lid in mm.")] = "118x96",
    labels: Annotated[bool, typer.Option(help="Labels for pans and tubes too.")] = True,
    crops: Annotated[bool, typer.Option("--crops", help="Print your own painted boxes in it.")] = False,
    as_json: AsJson = False,
) -> None:
    """Rule the lid card of a tin at true size, boxes in seat order, to paint and cut."""
    from halfpan.studio.follow_tin import rule_lid_card

    width, _, height = size.lower().replace("×", "x").partition("x")
    try:
        mm = (float(width), float(height))
    except ValueError as trouble:
        raise typer.BadParameter(f"“{size}” is not WIDTHxHEIGHT in mm, for instance 118x96") from trouble
    with opened(ctx) as studio:
        ruled, geometry = rule_lid_card(
            studio, tin, out, now=now(), sheet=sheet, card_mm=mm, labels=labels, crops=crops
        )
    _answer(ruled, out, geometry, as_json=as_json)


def _answer(ruled: Chart, out: Path, geometry: Path, *, as_json: bool) -> None:
    from halfpan.core.chart.sheet import chart_to_dict

    if as_json:
        put_json(chart_to_dict(ruled))
    else:
        pages = several(len(ruled.pages), "page")
        what = "Lid card" if ruled.kind == "lid card" else "Chart"
        put_text(f"{what} {ruled.chart}: {pages} of {ruled.sheet.name or 'paper'}.")
        put_text(f"Print {out} at 100 %; its geometry is in {geometry}.")


@app.command("stale")
def stale(
    ctx: typer.Context,
    tin: Annotated[str, typer.Argument(metavar="[TIN]")] = "",
    *,
    as_json: AsJson = False,
) -> None:
    """Name the charts and lid cards that no longer match their tins."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.follow_tin import stale_charts

    with opened(ctx) as studio:
        found = stale_charts(studio, tin)
    if as_json:
        put_json({"stale": answer_to_document(found)})
        return
    for one in found:
        moved = ", ".join(f"{box.box} (seat {box.seat})" for box in one.moved)
        put_text(f"{one.kind} {one.chart} “{one.title}”: {moved}")
    if not found:
        put_text("Every chart that follows a tin still matches.")


@app.command("map")
def tin_map(
    ctx: typer.Context,
    tin: TinName,
    *,
    out: Annotated[Path, typer.Option(help="The SVG to write.")] = Path("tin.svg"),
    as_json: AsJson = False,
) -> None:
    """Draw a tin as it lies open, with crops of your own painted boxes."""
    from halfpan.studio.draw_tin import draw_tin, write_picture
    from halfpan.studio.lay_tin import show_tin
    from halfpan.studio.tin_document import tin_to_dict

    with opened(ctx) as studio:
        write_picture(out, draw_tin(studio, tin))
        kept, paints = show_tin(studio, tin)
    if as_json:
        put_json({"picture": str(out), **tin_to_dict(kept, paints)})
        return
    put_text(f"The map is in {out}.")


@app.command("ring")
def ring(
    ctx: typer.Context,
    which: Which = "all",
    *,
    out: Annotated[Path, typer.Option(help="The SVG to write.")] = Path("hue-ring.svg"),
    as_json: AsJson = False,
) -> None:
    """Draw the hue ring: lightness by distance from the middle, gaps hatched."""
    from halfpan.studio.choice_document import ring_to_dict
    from halfpan.studio.draw_tin import draw_ring, write_picture

    with opened(ctx) as studio:
        svg, seen = draw_ring(studio, which)
        write_picture(out, svg)
    if as_json:
        put_json({"picture": str(out), **ring_to_dict(seen)})
        return
    put_text(f"The ring is in {out}.")


@app.command("reach")
def reach(
    ctx: typer.Context,
    which: Which = "all",
    *,
    out: Annotated[Path, typer.Option(help="The SVG to write.")] = Path("reach.svg"),
    as_json: AsJson = False,
) -> None:
    """Draw what two of these paints make together, in slices of lightness; what is missed is crossed."""
    from halfpan.studio.choice_document import gaps_to_dict
    from halfpan.studio.draw_tin import draw_reach, write_picture

    with opened(ctx) as studio:
        svg, seen = draw_reach(studio, which)
        write_picture(out, svg)
    if as_json:
        put_json({"picture": str(out), **gaps_to_dict(seen)})
        return
    say(f"{seen.share:.0%} of what {seen.wider} reaches.")
    put_text(f"The slices are in {out}.")
