"""Verbs of ``halfpan paints`` about labels: are they in order, what do they warn of, who else says so."""

from __future__ import annotations

from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, opened, put_json, put_text, say, several
from halfpan.cli.paint_likeness import PaintName
from halfpan.cli.table import put_table

app = typer.Typer()


@app.command("check")
def check(
    ctx: typer.Context,
    *,
    notes: Annotated[bool, typer.Option("--notes", help="Also what is in order but worth knowing.")] = False,
    as_json: AsJson = False,
) -> None:
    """Go through the labels: codes that cannot be read, do not exist, or do not fit the name."""
    from halfpan.studio.check_labels import check_labels
    from halfpan.studio.label_document import checked_to_dict

    with opened(ctx) as studio:
        checked = check_labels(studio)
    if as_json:
        put_json(checked_to_dict(checked))
        return
    levels = ("asked", "changed", "noted") if notes else ("asked", "changed")
    told = [
        (one.paint.id, one.paint.name, remark.about, remark.text, remark.proposal)
        for level in levels
        for one in checked
        for remark in one.checked.remarks
        if remark.level == level
    ]
    if told:
        put_table("To look at", ["number", "paint", "printed", "what", "perhaps"], told)
    asking = sum(1 for one in checked if one.checked.asks)
    held = several(len(checked), "label")
    put_text(f"{held}, {asking} with a question. Nothing was changed: `halfpan paints edit`.")


@app.command("cautions")
def cautions(
    ctx: typer.Context,
    which: Annotated[
        str, typer.Argument(metavar="PAINTS", help="all, a file, or numbers with commas.")
    ] = "all",
    *,
    children: Annotated[bool, typer.Option("--children", help="What the labels say about children.")] = False,
    as_json: AsJson = False,
) -> None:
    """List cautions, each with its witness. They are no safety data sheet."""
    from halfpan.core.paint.cautions import DEFER, NONE_RECORDED
    from halfpan.studio.label_document import cautions_to_dict
    from halfpan.studio.list_cautions import list_cautions

    with opened(ctx) as studio:
        warned = list_cautions(studio, which)
    if as_json:
        put_json(cautions_to_dict(warned))
        return
    if children:
        put_table(
            "By their labels",
            ["paint", "about children", "label", "holds"],
            [
                (w.paint.name, w.children.answer, w.children.quote, ", ".join(w.children.substances))
                for w in warned
            ],
        )
    else:
        told = [(w.paint.name, c.witness, c.substance, c.text, c.source) for w in warned for c in w.cautions]
        put_table("", ["paint", "witness", "holds", "caution", "source"], told)
        quiet = sum(1 for one in warned if not one.cautions)
        if quiet:
            put_text(f"{quiet} of {len(warned)}: {NONE_RECORDED}")
    say(DEFER)


@app.command("witnesses")
def witnesses(ctx: typer.Context, paint: PaintName, *, as_json: AsJson = False) -> None:
    """Show label, literature and proof side by side, and where they disagree."""
    from halfpan.studio.ask_witnesses import ask_witnesses
    from halfpan.studio.label_document import witnesses_to_dict

    with opened(ctx) as studio:
        asked = ask_witnesses(studio, paint)
    if as_json:
        put_json(witnesses_to_dict(asked))
        return
    rows = [(s.property, *(said.text if said else None for said in (s.label, s.literature, s.proof)))
            for s in asked.statements]  # fmt: skip
    put_table(f"{asked.paint.name}, {asked.paint.maker}", ["", "label", "literature", "proof"], rows)
    told = [s.disagreement for s in asked.statements if s.disagreement]
    told += [check.sentence for check in asked.contents.names if check.kept is not True]
    told += [
        *asked.contents.remarks,
        *(f"{f.finding.quality}: {f.finding.sentence}" for f in asked.findings),
    ]
    for sentence in told:
        put_text(sentence)
