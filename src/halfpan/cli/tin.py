"""``halfpan tin``: tins as in the metal, and the pans in them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from halfpan.cli import tin_choosing, tin_seating, tin_sheets
from halfpan.cli.frame import AsJson, now, opened, put_json, put_text
from halfpan.cli.table import put_table
from halfpan.cli.tin_seats import TinName, say_stale, show_seats

if TYPE_CHECKING:
    from halfpan.collection.tins import KeptTin
    from halfpan.studio.studio import Studio

app = typer.Typer(help="Tins: lay one out, fill it, seat the pans.", no_args_is_help=True)


@app.command("new")
def new(
    ctx: typer.Context,
    tin: TinName,
    rows: Annotated[
        list[str],
        typer.Argument(
            metavar="ROW...",
            help="One text a row: f full pan, h half pan, q quarter pan, - blank; 6h is six half pans.",
        ),
    ],
    *,
    gap: Annotated[float, typer.Option(help="Metal between seats, in mm.")] = 1.0,
    half: Annotated[str, typer.Option(metavar="WxH", help="Size of a half pan in mm.")] = "",
    full: Annotated[str, typer.Option(metavar="WxH", help="Size of a full pan in mm.")] = "",
    quarter: Annotated[str, typer.Option(metavar="WxH", help="Size of a quarter pan in mm.")] = "",
    as_json: AsJson = False,
) -> None:
    """Lay out an empty tin, row by row as it lies before you."""
    from halfpan.core.paint.tin import PAN_MM
    from halfpan.studio.lay_tin import new_tin

    given = {"half": half, "full": full, "quarter": quarter}
    sizes = {**PAN_MM, **{size: _mm(text) for size, text in given.items() if text}}
    with opened(ctx) as studio:
        kept = new_tin(studio, tin, rows, now=now(), sizes=sizes, gap_mm=gap)
        _answer(studio, kept, as_json=as_json)


def _mm(text: str) -> tuple[float, float]:
    width, _, height = text.lower().replace("×", "x").partition("x")
    try:
        return float(width), float(height)
    except ValueError as trouble:
        raise typer.BadParameter(f"“{text}” is not WIDTHxHEIGHT in mm, for instance 16x19") from trouble


@app.command("list")
def listed(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """List the tins."""
    from halfpan.studio.lay_tin import list_tins
    from halfpan.studio.tin_document import tins_to_dict

    with opened(ctx) as studio:
        found = list_tins(studio)
    if as_json:
        put_json(tins_to_dict(found))
        return
    put_table("", ["tin", "rows", "pans"], [(t.name, " ".join(t.rows), len(t.paints)) for t in found])


@app.command("show")
def show(ctx: typer.Context, tin: TinName, *, as_json: AsJson = False) -> None:
    """Show a tin seat by seat."""
    from halfpan.studio.lay_tin import show_tin

    with opened(ctx) as studio:
        kept, _ = show_tin(studio, tin)
        _answer(studio, kept, as_json=as_json)


@app.command("fill")
def fill(
    ctx: typer.Context,
    tin: TinName,
    paints: Annotated[list[str], typer.Argument(metavar="PAINT...", help="Numbers or names.")],
    *,
    as_json: AsJson = False,
) -> None:
    """Put paints into the free seats, in the order given."""
    from halfpan.studio.lay_tin import fill_tin

    with opened(ctx) as studio:
        _answer(studio, fill_tin(studio, tin, paints, now=now()), as_json=as_json)


@app.command("move")
def move(
    ctx: typer.Context,
    tin: TinName,
    start: Annotated[str, typer.Argument(metavar="FROM", help="A seat, such as A3.")],
    end: Annotated[str, typer.Argument(metavar="TO")],
    *,
    as_json: AsJson = False,
) -> None:
    """Move a pan to another seat, where it stays; who sat there comes back the other way."""
    from halfpan.studio.follow_tin import stale_charts
    from halfpan.studio.lay_tin import move_pan

    with opened(ctx) as studio:
        kept = move_pan(studio, tin, start, end, now=now())
        _answer(studio, kept, as_json=as_json)
        stale = stale_charts(studio, str(kept.id))
    say_stale(stale)


@app.command("take-out")
def take_out(
    ctx: typer.Context,
    tin: TinName,
    paint: Annotated[str, typer.Argument(metavar="PAINT")],
    *,
    as_json: AsJson = False,
) -> None:
    """Take a pan out of a tin."""
    from halfpan.studio import lay_tin
    from halfpan.studio.follow_tin import stale_charts

    with opened(ctx) as studio:
        kept = lay_tin.take_out(studio, tin, paint, now=now())
        if as_json:
            _answer(studio, kept, as_json=True)
        say_stale(stale_charts(studio, str(kept.id)))
    if not as_json:
        put_text(f"{paint} is out of the tin {kept.name}.")


@app.command("lock")
def lock(
    ctx: typer.Context,
    tin: TinName,
    seats: Annotated[list[str], typer.Argument(metavar="SEAT...")],
    *,
    free: Annotated[bool, typer.Option("--free", help="Free the seats instead.")] = False,
    as_json: AsJson = False,
) -> None:
    """Keep seats as they are when the tin is seated anew; an empty one stays empty."""
    from halfpan.studio.lay_tin import lock_seats

    with opened(ctx) as studio:
        kept = lock_seats(studio, tin, seats, locked=not free, now=now())
        if as_json:
            _answer(studio, kept, as_json=True)
            return
    put_text(f"{', '.join(seats)} of the tin {kept.name}: {'free' if free else 'locked'}.")


def _answer(studio: Studio, kept: KeptTin, *, as_json: bool) -> None:
    from halfpan.studio.lay_tin import show_tin
    from halfpan.studio.tin_document import tin_to_dict

    _, paints = show_tin(studio, str(kept.id))
    if as_json:
        put_json(tin_to_dict(kept, paints))
    else:
        show_seats(kept, paints)


for _verbs in (tin_seating, tin_sheets, tin_choosing):
    app.registered_commands += _verbs.app.registered_commands
