"""``halfpan papers``: what is painted on."""

from __future__ import annotations

from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, now, opened, put_json, put_text
from halfpan.cli.table import put_table

app = typer.Typer(help="Papers: each its own white, weight and surface.", no_args_is_help=True)

White = Annotated[str, typer.Option(metavar="L,a,b", help="Its own white, measured (D50).")]


@app.command("list")
def listed(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """List the papers."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.keep_paper import list_papers

    with opened(ctx) as studio:
        found = list_papers(studio)
    if as_json:
        put_json({"papers": answer_to_document(found)})
        return
    rows = [
        (p.name, p.maker, p.surface, f"{p.weight_gsm:g} g" if p.weight_gsm else "", _shown(p.lab))
        for p in found
    ]
    put_table("", ["paper", "maker", "surface", "weight", "white L* a* b*"], rows)


@app.command("add")
def add(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="NAME")],
    *,
    maker: Annotated[str, typer.Option()] = "",
    surface: Annotated[str, typer.Option(help="hot pressed, cold pressed, rough")] = "",
    weight: Annotated[float | None, typer.Option(help="Grams a square metre.")] = None,
    white: White = "",
    notes: Annotated[str, typer.Option()] = "",
) -> None:
    """Keep a paper, so that charts can say what they are painted on."""
    from halfpan.collection.papers import Paper
    from halfpan.studio.keep_paper import add_paper

    paper = Paper(
        name, maker=maker, surface=surface, weight_gsm=weight, lab=_lab(white) if white else None, notes=notes
    )
    with opened(ctx) as studio:
        kept = add_paper(studio, paper, now=now())
    put_text(f"Paper {kept.name} kept.")


@app.command("white")
def white(
    ctx: typer.Context,
    paper: Annotated[str, typer.Argument(metavar="PAPER")],
    lab: Annotated[str, typer.Argument(metavar="L,a,b")],
) -> None:
    """Note the measured white of a paper."""
    from halfpan.studio.keep_paper import set_white

    with opened(ctx) as studio:
        kept = set_white(studio, paper, _lab(lab), now=now())
    put_text(f"{kept.name} is {_shown(kept.lab)}.")


def _lab(text: str) -> tuple[float, float, float]:
    try:
        L, a, b = (float(part) for part in text.split(","))
    except ValueError:
        raise typer.BadParameter(f"“{text}” is not L,a,b", param_hint="L,a,b") from None
    return L, a, b


def _shown(lab: tuple[float, float, float] | None) -> str:
    return "" if lab is None else f"{lab[0]:.1f} {lab[1]:+.1f} {lab[2]:+.1f}"
