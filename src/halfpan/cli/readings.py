"""``halfpan readings``: what was measured, and which of it counts."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from halfpan.cli.frame import AsJson, now, opened, progress, put_json, put_text, say, several
from halfpan.cli.table import put_table

app = typer.Typer(help="Readings: add measured ones, accept them, set them aside.", no_args_is_help=True)

Numbers = Annotated[list[int] | None, typer.Argument(metavar="[READING]...", help="Numbers of readings.")]
OfChart = Annotated[str, typer.Option("--chart", help="All of this chart.")]
OfBox = Annotated[str, typer.Option("--box", help="With --chart: only this box.")]
OfPaint = Annotated[str, typer.Option("--paint", help="All of this paint.")]


@app.command("add")
def add(
    ctx: typer.Context,
    source: Annotated[
        Path,
        typer.Argument(
            metavar="FILE",
            help="paint, amount (or paint_a, amount_a, paint_b, amount_b), then L,a,b or R_400 ... R_700.",
        ),
    ],
    *,
    paper: Annotated[
        Path | None, typer.Option(help="A file with one row of the same: the bare paper.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Add readings of an instrument: swatches, ladders of known amounts, mixes."""
    from halfpan.studio.add_readings import add_readings

    with opened(ctx) as studio, progress("adding readings"):
        added = add_readings(studio, source, now=now(), paper=paper)
    for said in added.problems:
        say(said)
    if as_json:
        put_json(
            {
                "readings": list(added.kept),
                "known_already": added.known,
                "new_paints": [{"paint": one.id, "name": one.name} for one in added.new_paints],
                "problems": list(added.problems),
            }
        )
        return
    put_text(f"{several(len(added.kept), 'reading')} added, {added.known} known already.")
    if added.new_paints:
        names = ", ".join(one.name for one in added.new_paints)
        put_text(f"New paints, known by name alone so far: {names}.")


@app.command("list")
def listed(
    ctx: typer.Context,
    *,
    chart: OfChart = "",
    box: OfBox = "",
    paint: OfPaint = "",
    state: Annotated[
        Literal["to review", "accepted", "set aside"] | None, typer.Option(help="Only those in this state.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """List readings; those to review come with the doubtful first."""
    from halfpan.studio.readings_document import readings_to_dict
    from halfpan.studio.review import Which, list_readings

    with opened(ctx) as studio:
        found = list_readings(studio, Which(chart=chart, box=box, paint=paint, state=state))
    if as_json:
        put_json(readings_to_dict(found))
        return
    rows = []
    for one in found:
        kept, reading = one.kept, one.kept.reading
        lab = " ".join(f"{value:.1f}" for value in reading.lab)
        doubt = "; ".join((*reading.flags, *([kept.reason] if kept.reason else [])))
        state_shown = f"{reading.state}, chosen" if kept.chosen else reading.state
        rows.append(
            (kept.id, kept.chart or kept.source, reading.box, one.name, reading.zone, lab,
             f"± {reading.within_delta_e00:.1f}", reading.tier, state_shown, doubt)
        )  # fmt: skip
    headings = ["number", "from", "box", "paint", "zone", "L* a* b*", "within", "light", "state", "doubt"]
    put_table("", headings, rows, right=["number"], note=several(len(rows), "reading"))


@app.command("accept")
def accept(
    ctx: typer.Context, numbers: Numbers = None, *, chart: OfChart = "", box: OfBox = "", paint: OfPaint = ""
) -> None:
    """Accept readings: those named, or all that wait for review of a chart, box or paint."""
    from halfpan.studio.review import Which
    from halfpan.studio.review import accept as accept_readings

    which = Which(tuple(_some(numbers, chart, paint)), chart, box, paint)
    with opened(ctx) as studio:
        count = accept_readings(studio, which, now=now())
    put_text(f"{several(count, 'reading')} accepted.")


@app.command("set-aside")
def set_aside(
    ctx: typer.Context,
    numbers: Numbers = None,
    *,
    reason: Annotated[str, typer.Option(help="Why; kept beside the reading.")],
    chart: OfChart = "",
    box: OfBox = "",
    paint: OfPaint = "",
) -> None:
    """Set readings aside with a reason. They are kept and can be accepted again."""
    from halfpan.studio.review import Which
    from halfpan.studio.review import set_aside as set_readings_aside

    which = Which(tuple(_some(numbers, chart, paint)), chart, box, paint)
    with opened(ctx) as studio:
        count = set_readings_aside(studio, which, reason, now=now())
    put_text(f"{several(count, 'reading')} set aside.")


@app.command("choose")
def choose(ctx: typer.Context, number: Annotated[int, typer.Argument(metavar="READING")]) -> None:
    """Make one reading the one that counts for its paint and zone."""
    from halfpan.studio.review import choose as choose_reading

    with opened(ctx) as studio:
        kept = choose_reading(studio, number, now=now())
    put_text(f"Reading {kept.id} counts for {kept.reading.zone} of {kept.reading.paint} now.")


def _some(numbers: list[int] | None, chart: str, paint: str) -> list[int]:
    if not (numbers or chart or paint):
        raise typer.BadParameter("name readings by their numbers, or say --chart or --paint")
    return numbers or []
