"""``halfpan back-up``: the whole studio in one verified file."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfpan.cli.frame import now, opened, progress, put_text, several

app = typer.Typer()


@app.command("back-up")
def back_up(
    ctx: typer.Context,
    out: Annotated[
        Path | None, typer.Argument(metavar="[FILE]", help="The zip to write; by default named after today.")
    ] = None,
) -> None:
    """Back up the studio, photographs and all, into one zip, and read it back to make sure."""
    from halfpan.studio.back_up import back_up as back_up_studio

    moment = now()
    path = out or Path(f"halfpan-{moment.astimezone():%Y-%m-%d}.zip")
    with opened(ctx) as studio, progress("backing up"):
        count = back_up_studio(studio, path, now=moment)
    put_text(f"{several(count, 'file')} backed up to {path} and read back whole.")
