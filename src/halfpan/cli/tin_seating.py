"""Verbs of ``halfpan tin`` about who sits where: seat the pans, name odd ones, part paints over tins."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from halfpan.cli.frame import AsJson, now, opened, put_json, put_text
from halfpan.cli.table import put_table
from halfpan.cli.tin_seats import TinName, say_stale, show_seats

if TYPE_CHECKING:
    from halfpan.studio.seat_tin import OddSeat

app = typer.Typer()


@app.command("seat")
def seat(
    ctx: typer.Context,
    tin: TinName,
    *,
    strong: Annotated[
        list[str] | None,
        typer.Option(metavar="PAINT", help="Goes into a half pan; paints tagged “strong” do too."),
    ] = None,
    most_used: Annotated[
        list[str] | None,
        typer.Option(metavar="PAINT", help="Goes into a full pan; paints tagged “most used” do too."),
    ] = None,
    by_mix_log: Annotated[
        bool, typer.Option("--by-mix-log", help="Count the mix log: the most mixed go into full pans.")
    ] = False,
    clean_yellows: Annotated[
        bool, typer.Option("--clean-yellows", help="Keep yellows from greens, blues, violets and blacks.")
    ] = False,
    spare_anywhere: Annotated[
        bool, typer.Option("--spare-anywhere", help="Let free seats part what is unlike.")
    ] = False,
    prove: Annotated[bool, typer.Option("--prove", help="Prove the best, up to 12 seats.")] = False,
    tries: Annotated[int, typer.Option(help="Search from so many beginnings; each takes a moment.")] = 1,
    as_json: AsJson = False,
) -> None:
    """Seat the pans so that neighbours differ least; locked seats stay."""
    from halfpan.studio.follow_tin import stale_charts
    from halfpan.studio.lay_tin import show_tin
    from halfpan.studio.seat_tin import seat_tin
    from halfpan.studio.seat_wishes import wishes_for
    from halfpan.studio.tin_document import tin_to_dict

    with opened(ctx) as studio:
        wishes = wishes_for(
            studio,
            tin,
            strong=strong or [],
            most_used=most_used or [],
            by_mix_log=by_mix_log,
            clean_yellows=clean_yellows,
        )
        done = seat_tin(
            studio, tin, now=now(), wishes=wishes, spare_anywhere=spare_anywhere, prove=prove, tries=tries
        )
        kept, paints = show_tin(studio, tin)
        stale = stale_charts(studio, tin)
    if as_json:
        put_json(
            {
                **tin_to_dict(kept, paints),
                "step_before": done.step_before,
                "step": done.step,
                "gap": done.gap,
                "proved": done.proved,
                "unread": list(done.unread),
                "no_longer_match": [one.chart for one in stale],
            }
        )
        return
    show_seats(kept, paints)
    sure = (
        f"at most {done.gap:.0%} above the best there may be"
        if done.gap < 1
        else "how near the best, unknown"
    )
    sure = "no seating is better" if done.proved else sure
    put_text(
        f"Neighbours differ by {done.step:.1f} on average, before {done.step_before:.1f} (ΔE00); {sure}."
    )
    if done.unread:
        put_text(f"{len(done.unread)} of them were placed by pigment group: they have no reading yet.")
    say_stale(stale)


@app.command("odd")
def odd(ctx: typer.Context, tin: TinName, *, as_json: AsJson = False) -> None:
    """Name the pans that look odd where they sit, and the move or swap that helps most."""
    from dataclasses import asdict

    from halfpan.studio.lay_tin import show_tin
    from halfpan.studio.seat_tin import odd_seats

    with opened(ctx) as studio:
        found = odd_seats(studio, tin)
        _, paints = show_tin(studio, tin)
    if as_json:
        put_json({"odd": [asdict(one) for one in found]})
        return
    if not found:
        put_text("No pan looks odd among its neighbours.")
    for one in found:
        steps = f"{one.step:.1f} from its neighbours, {one.usual:.1f} is usual"
        put_text(f"{one.seat} {paints[one.paint].name}: {steps}{_helps(one)}.")


def _helps(one: OddSeat) -> str:
    if one.swap_with is None:
        return "; no single move or swap helps"
    what = f"moving it to {one.swap_with}" if one.free else f"swapping with {one.swap_with}"
    return f"; {what} would take {one.gain:.1f} off"


@app.command("split")
def split(
    ctx: typer.Context,
    paints: Annotated[
        str, typer.Option(help="all, a tin, a file, or numbers and names with commas.")
    ] = "all",
    *,
    first: Annotated[str, typer.Option(help="Your word for the first side.")] = "warm",
    second: Annotated[str, typer.Option(help="Your word for the other side.")] = "cool",
    start: Annotated[float, typer.Option(help="Hue angle at which the first side begins.")] = 350.0,
    end: Annotated[float, typer.Option(help="Hue angle at which it ends.")] = 100.0,
    into: Annotated[
        str, typer.Option(metavar="TIN,TIN", help="Put the two sides into these tins; without it, only show.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Part paints over two tins by a boundary of your own; a paint tagged with a side's word keeps to it."""
    from halfpan.core.arranging.sides import SideRule
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.split_tins import fill_by_side, split_paints

    rule = SideRule(first, second, start, end)
    with opened(ctx) as studio:
        parted = split_paints(studio, paints, rule)
        if into:
            one, _, other = into.partition(",")
            fill_by_side(studio, parted, (one.strip(), other.strip()), now=now())
    if as_json:
        put_json({"rule": answer_to_document(parted.rule), "sided": answer_to_document(parted.sided)})
        return
    rows = [
        (
            parted.paints[one.paint].name,
            one.side or "undecided",
            one.basis,
            None if one.hue is None else f"{one.hue:.0f}°",
            None if one.from_boundary is None else f"{one.from_boundary:.0f}°",
        )
        for one in parted.sided
    ]
    headings = ["paint", "side", "rests on", "hue", "from the boundary"]
    note = f"{first}: from {start:.0f}° through 0° to {end:.0f}°. There is no agreed boundary: move it."
    put_table("", headings, rows, right=headings[3:], note=note)
