"""``halfpan serve``: the whole job in the browser, served to this computer alone."""

from __future__ import annotations

from typing import Annotated

import typer

from halfpan.cli.frame import say

app = typer.Typer(help="Open the studio page in your browser.")


@app.command()
def serve(
    ctx: typer.Context,
    *,
    port: Annotated[int, typer.Option(min=0, max=65535, help="0 takes any free port.")] = 8330,
    read_only: Annotated[bool, typer.Option("--read-only", help="Look, and change nothing.")] = False,
    on_network: Annotated[
        bool, typer.Option("--on-network", help="Let a phone in the same network in, by a code shown here.")
    ] = False,
    browser: Annotated[bool, typer.Option(help="Open the page in the browser.")] = True,
) -> None:
    """Serve the studio page until you stop it with Ctrl+C."""
    from halfpan.web.serving import Serving, serve_page

    serve_page(
        Serving(
            studio_folder=ctx.find_root().obj,
            port=port,
            read_only=read_only,
            on_network=on_network,
            browser=browser,
        ),
        tell=say,
    )
