"""Verbs of ``halfpan paints`` about what was done: list it, take it back."""

from __future__ import annotations

from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, now, opened, put_json, put_text
from halfpan.cli.table import put_table

app = typer.Typer()


@app.command("undo")
def undone(
    ctx: typer.Context,
    change: Annotated[int | None, typer.Argument(help="Number of the change; by default the latest.")] = None,
) -> None:
    """Take back the latest change, or the one whose number is given."""
    from halfpan.studio.undo import undo

    with opened(ctx) as studio:
        taken_back = undo(studio, change, now=now())
    put_text(f"Undone: {taken_back.what}.")


@app.command("changes")
def changed(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="[PAINT]", help="Only what touched this one.")] = "",
    *,
    as_json: AsJson = False,
) -> None:
    """List what was done lately, newest first; of one paint, with what stood there before."""
    from halfpan.studio.change_document import changes_to_dict, history_to_dict
    from halfpan.studio.paint_history import paint_history
    from halfpan.studio.undo import latest_changes

    with opened(ctx) as studio:
        history = paint_history(studio, paint) if paint else ()
        done = [one.change for one in history] if paint else latest_changes(studio)
    if as_json:
        put_json(history_to_dict(history) if paint else changes_to_dict(done))
        return
    before = {one.change.id: "; ".join(_before(what, was) for what, was in one.before) for one in history}
    rows = [
        (c.id, f"{c.when:%Y-%m-%d %H:%M}", c.what, before.get(c.id, ""), "undone" if c.undone else "")
        for c in done
    ]
    put_table("", ["number", "when", "what", "before", ""], rows, right=["number"])


def _before(what: str, was: str) -> str:
    from halfpan.files.words import say as words

    return words(f"paint.was.{what}", was=was) if was else words(f"paint.was_nothing.{what}")
