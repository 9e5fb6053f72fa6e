"""``halfpan share``: pages to carry or to send, each one HTML file that needs no server."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from halfpan.cli.frame import now, opened, progress, put_text

app = typer.Typer(
    help="Share: your paints, a chart, a pocket list, a chart to paint, each as one HTML file.",
    no_args_is_help=True,
)
Out = Annotated[Path, typer.Option(help="The HTML file to write.")]
ChartId = Annotated[str, typer.Argument(metavar="CHART")]


@app.command("paints")
def paints(ctx: typer.Context, *, out: Out = Path("paints.html")) -> None:
    """Write your paints as one page: boxes, names, codes, a search; it prints well."""
    from halfpan.studio.share_paints import share_collection, write_page

    with opened(ctx) as studio, progress("cutting boxes out of the photos"):
        write_page(out, share_collection(studio, now=now()))
    _told(out)


@app.command("chart")
def chart(ctx: typer.Context, chart: ChartId, *, out: Out = Path("chart.html")) -> None:
    """Write one chart as one page, in the order of its boxes."""
    from halfpan.studio.share_paints import share_chart, write_page

    with opened(ctx) as studio, progress("cutting boxes out of the photos"):
        write_page(out, share_chart(studio, chart, now=now()))
    _told(out)


@app.command("pocket")
def pocket(ctx: typer.Context, *, out: Out = Path("pocket-list.html")) -> None:
    """Write a pocket list for the shop, to see whether a paint is owned."""
    from halfpan.studio.share_paints import share_pocket, write_page

    with opened(ctx) as studio, progress("cutting boxes out of the photos"):
        write_page(out, share_pocket(studio, now=now()))
    _told(out)


@app.command("table")
def table(ctx: typer.Context, chart: ChartId, *, out: Out = Path("at-the-table.html")) -> None:
    """Write a chart to paint box by box on a phone without a connection."""
    from halfpan.studio.share_paints import share_table, write_page

    with opened(ctx) as studio:
        write_page(out, share_table(studio, chart, now=now()))
    _told(out)


def _told(out: Path) -> None:
    put_text(f"{out}: {out.stat().st_size / 1000:,.0f} kB, one file with everything inside.")
