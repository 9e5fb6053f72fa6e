"""``halfpan mix log``: what was mixed, and what was used for a colour."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, now, opened, put_json, put_text
from halfpan.cli.table import put_table

log = typer.Typer(help="The log of mixes: add one, list them, find what gave a colour.", no_args_is_help=True)


@log.command("add")
def add(
    ctx: typer.Context,
    mix: Annotated[str, typer.Argument(help="What was painted: “3 Scarlet + 1 Ultramarine”.")],
    *,
    colour: Annotated[str, typer.Option(help="How it looks: L,a,b or #rrggbb.")] = "",
    within: Annotated[float, typer.Option(help="How far off that colour may be, ΔE00.")] = 5.0,
    paper: Annotated[str, typer.Option(help="A paper of the studio.")] = "",
    photo: Annotated[Path | None, typer.Option(help="A picture to keep with it.")] = None,
    name: Annotated[str, typer.Option(help="What you call it.")] = "",
    notes: Annotated[str, typer.Option(help="Anything to remember.")] = "",
    as_json: AsJson = False,
) -> None:
    """Note a mix that was painted."""
    from halfpan.studio.match_colour import colour_in_words
    from halfpan.studio.mix_log import log_mix

    lab = colour_in_words(colour) if colour else None
    with opened(ctx) as studio:
        kept = log_mix(
            studio, mix, now=now(), lab=lab, within=within, paper=paper, photo=photo, name=name, notes=notes
        )
    if as_json:
        put_json({"mix": kept.id})
    else:
        put_text(f"Noted as mix {kept.id}.")


@log.command("list")
def listed(
    ctx: typer.Context,
    *,
    near: Annotated[str, typer.Option(help="Nearest to this colour first: L,a,b or #rrggbb.")] = "",
    paint: Annotated[str, typer.Option(help="Only mixes with this paint.")] = "",
    as_json: AsJson = False,
) -> None:
    """List the mixes, newest first; with --near, what gave a colour like this one."""
    from halfpan.studio.match_colour import colour_in_words
    from halfpan.studio.mix_document import log_to_dict
    from halfpan.studio.mix_log import logged_mixes
    from halfpan.studio.mix_words import mix_in_words

    lab = colour_in_words(near) if near else None
    with opened(ctx) as studio:
        found, names = logged_mixes(studio, near=lab, paint=paint)
    if as_json:
        put_json(log_to_dict(found, names))
        return
    rows = [
        (
            one.mix.id,
            one.mix.painted.date().isoformat(),
            mix_in_words(one.mix.parts, names),
            one.mix.name,
            None if one.lab is None else ", ".join(f"{v:.0f}" for v in one.lab),
            None if one.apart is None else f"{one.apart:.1f}",
            one.mix.notes,
        )
        for one in found
    ]
    put_table(
        "Mixes", ["", "painted", "mix", "name", "L*, a*, b*", "ΔE00", "notes"], rows, right=["", "ΔE00"]
    )
