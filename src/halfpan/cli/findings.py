"""``halfpan findings``: what you saw by eye. It is proof too."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, day, now, opened, put_json, put_text
from halfpan.cli.table import put_table

app = typer.Typer(help="Findings: what you saw by eye, dated.", no_args_is_help=True)


@app.command("add")
def add(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="PAINT")],
    quality: Annotated[str, typer.Argument(metavar="WHAT", help="staining, lifting, re-wetting, flow, …")],
    value: Annotated[str, typer.Argument(metavar="SEEN", help="A word, or a number with --scale.")],
    *,
    scale: Annotated[str, typer.Option(help="The scale and its direction: “0 to 5, 5 stains most”.")] = "",
    paper: Annotated[str, typer.Option(help="The paper it was seen on.")] = "",
    seen: Annotated[
        date | None, typer.Option(metavar="DAY", parser=day, help="The day; today if none.")
    ] = None,
    note: Annotated[str, typer.Option()] = "",
) -> None:
    """Keep something that you saw."""
    from halfpan.core.paint.finding import Finding
    from halfpan.studio.keep_finding import keep_finding

    finding = Finding(quality, value, scale, paper, seen, note)
    with opened(ctx) as studio:
        about = keep_finding(studio, paint, finding, now=now())
    put_text(f"Kept for {about.name}: {quality}, {value}.")


@app.command("list")
def listed(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="PAINT")] = "",
    *,
    as_json: AsJson = False,
) -> None:
    """List what was seen, of one paint or of all."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.keep_finding import list_findings

    with opened(ctx) as studio:
        found = list_findings(studio, paint)
    if as_json:
        put_json({"findings": answer_to_document(found)})
        return
    rows = [(one.paint, one.finding.quality, one.finding.sentence, one.finding.note) for one in found]
    put_table("", ["paint", "what", "seen", "note"], rows)
