"""What every noun needs: the studio, the clock, a document, a word to the painter, progress.

Answers go to stdout; everything else goes to stderr, so that ``--json`` can be piped.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from pathlib import Path

    from rich.progress import Progress

    from halfpan.studio.studio import Studio

AsJson = Annotated[bool, typer.Option("--json", help="One JSON document on stdout and nothing else.")]


@contextmanager
def opened(ctx: typer.Context) -> Iterator[Studio]:
    """Open the studio that ``--studio`` names, and let go of it; a new folder is begun with a word."""
    from halfpan.studio.studio import open_studio

    named: Path | None = ctx.find_root().obj
    begun = named is not None and not named.exists()
    studio = open_studio(named)
    if begun:
        say(f"There was no studio in {named}; a new one begins there.")
    try:
        yield studio
    finally:
        studio.close()


def now() -> datetime:
    """Return the time of day; use cases get it handed in."""
    return datetime.now(UTC)


def day(text: str) -> date:
    """Return the day that was typed; for the ``parser`` of an option."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise typer.BadParameter(f"“{text}” is no day; write it like 2026-03-01") from None


def say(text: str) -> None:
    """Tell the painter something beside the answer."""
    typer.echo(text, err=True)


def put_json(document: Any) -> None:
    """Answer with one JSON document."""
    json.dump(document, sys.stdout, ensure_ascii=False, indent=1, allow_nan=False)
    sys.stdout.write("\n")


def put_text(text: str) -> None:
    """Answer with a line of text."""
    typer.echo(text)


def several(count: int, one: str, more: str = "") -> str:
    """Return how many there are, in words: ``1 paint``, ``2 paints``; ``more`` where an s does not do."""
    return f"{count} {one if count == 1 else more or one + 's'}"


@contextmanager
def progress(what: str, total: int | None = None) -> Iterator[Progress]:
    """Show on stderr that something is going on; ``advance`` the one task inside for each step."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

    console = Console(stderr=True)
    columns = (SpinnerColumn(), TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        bar.add_task(what, total=total)
        yield bar
