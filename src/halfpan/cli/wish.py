"""``halfpan wish``: paints not owned yet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from halfpan.cli.frame import AsJson, now, opened, put_json, put_text, say
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.studio.wish import Wish

MOST_SHOWN = 6
app = typer.Typer(help="Wishes: paints not owned yet.", no_args_is_help=True)


@app.command("list")
def listed(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """List the wishes, with the owned paints they are already covered by."""
    from halfpan.studio.stock_document import wishes_to_dict
    from halfpan.studio.wish import list_wishes

    with opened(ctx) as studio:
        found = list_wishes(studio)
    if as_json:
        put_json(wishes_to_dict(found))
        return
    rows = [
        (w.paint.id, w.paint.name, " ".join(w.paint.codes), w.paint.maker, w.why, _covered(w)) for w in found
    ]
    put_table("", ["number", "name", "codes", "maker", "why", "already covered by"], rows)


@app.command("add")
def add(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="NAME")],
    codes: Annotated[str, typer.Argument(metavar="[CODES]", help="“PB29 PBk9”, as on the label.")] = "",
    *,
    maker: Annotated[str, typer.Option()] = "",
    range_name: Annotated[str, typer.Option("--range")] = "",
    why: Annotated[str, typer.Option(help="Why you wish for it.")] = "",
) -> None:
    """Wish for a paint."""
    from halfpan.core.paint.codes import parse_codes
    from halfpan.studio.wish import wish_by_label

    for code in parse_codes(codes):
        if code.problem:
            say(f"Codes: {code.problem}.")
    with opened(ctx) as studio:
        kept = wish_by_label(studio, name, codes, maker=maker, range_name=range_name, why=why, now=now())
    covered = f" Already covered by: {_covered(kept)}." if kept.covered else ""
    put_text(f"Wished for {kept.paint.name}, {kept.paint.id}.{covered}")


def _covered(wish: Wish) -> str:
    shown = [
        f"{one.paint.name} ({one.paint.id}: {' and '.join(one.ways)})" for one in wish.covered[:MOST_SHOWN]
    ]
    more = len(wish.covered) - len(shown)
    return "; ".join([*shown, f"and {more} more"] if more else shown)


@app.command("drop")
def drop(ctx: typer.Context, paint: Annotated[str, typer.Argument(metavar="PAINT")]) -> None:
    """Take a paint off the wish list."""
    from halfpan.studio.wish import drop_wish

    with opened(ctx) as studio:
        gone = drop_wish(studio, paint, now=now())
    put_text(f"No longer wished for {gone.name}.")


@app.command("mix")
def mix(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """Say of each wished mixed paint whether its look can be made from singles you own."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.mix_yourself import mix_yourself

    with opened(ctx) as studio:
        told, paints = mix_yourself(studio)
    if as_json:
        put_json({"wishes": [answer_to_document(one) | {"paint": one.paint.id} for one in told]})
        return
    if not told:
        put_text("No mixed paint is on the wish list.")
    for one in told:
        owned = ", ".join(
            f"{code} {'owned singly' if ids else 'not owned singly'}" for code, ids in one.singles
        )
        put_text(f"{one.paint.name}: {owned}.")
        if one.parts is None:
            put_text(
                f"   Whether its look can be mixed is unknown: {one.why_unknown or 'no single was read'}."
            )
            continue
        parts = " + ".join(f"{n} {paints[paint].name}" for paint, n in one.parts.parts)
        verdict = "has its look" if one.reaches else "comes nearest, and is not its look"
        put_text(f"   {parts} {verdict}: ΔE00 {one.parts.apart:.1f} on average.")
        for words in one.differs:
            put_text(f"   {words}")
