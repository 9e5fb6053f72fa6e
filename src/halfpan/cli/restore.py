"""``halfpan restore``: a studio from its back-up."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfpan.cli.frame import progress, put_text, several

app = typer.Typer()


@app.command("restore")
def restore(
    ctx: typer.Context, bundle: Annotated[Path, typer.Argument(metavar="FILE", help="A back-up of Halfpan.")]
) -> None:
    """Restore a back-up into the studio folder, which must not hold a studio yet."""
    from halfpan.studio.back_up import restore as restore_studio
    from halfpan.studio.studio import default_folder

    folder = ctx.find_root().obj or default_folder()
    with progress("restoring"):
        count = restore_studio(bundle, folder)
    put_text(f"{several(count, 'file')} restored into {folder}.")
