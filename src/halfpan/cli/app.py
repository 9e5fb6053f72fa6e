"""The command line: ``halfpan [--studio DIR] NOUN VERB``. It decides nothing; use cases do.

How a noun file looks, so that all of them look alike::

    # cli/stock.py
    app = typer.Typer(help="What lies in the drawer, and what is left of it.")

    @app.command("list")                              # the verb
    def listed(ctx: typer.Context, *, as_json: AsJson = False) -> None:
        '''What the painter gets, in one line.'''
        from halfpan.studio.stock import stock_list   # heavy imports inside

        with opened(ctx) as studio:                   # the studio of --studio
            items = stock_list(studio)                # one use case
        if as_json:
            put_json({"items": [...]})                # one document on stdout, nothing else
        else:
            put_table("Stock", ["paint", "left"], [...])

and one line in ``NOUNS``. A file whose ``app`` holds a single verb and no ``@app.callback()`` becomes a
plain command (``halfpan serve``). Messages and progress go to stderr by ``say`` and ``progress`` of
`halfpan.cli.frame`. A `HalfpanError` becomes one sentence on stderr and exit code 1, here and only here.
"""

from __future__ import annotations

import gc
import os
import sys
from difflib import get_close_matches
from importlib import import_module
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperArgument, TyperCommand, TyperGroup, TyperOption

from halfpan import __version__
from halfpan.errors import HalfpanError

# Noun: what a painter reads about it in the help. The file is ``cli/NOUN.py`` with _ for -.
NOUNS = {
    "demo": "The whole job on an invented studio: print, paint, photograph, read, compare.",
    "serve": "Open the studio page in your browser.",
    "paints": "Your paints: add, list, show, correct, undo.",
    "pigments": "Pigments: what is published about them, and your paints that contain them.",
    "findings": "Findings: what you saw by eye, dated.",
    "chart": "Charts: rule one, print it, paint it, read it.",
    "readings": "Readings: add measured ones, accept them, set them aside.",
    "light-test": "Light tests: hang a sheet in a window, look at it over months, see what changed.",
    "papers": "Papers: each its own white, weight and surface.",
    "tin": "Tins: lay one out, seat the pans, choose a few paints, see what they cannot reach.",
    "mix": "Mixes: predict them, reach a colour, plan which boxes to paint.",
    "glaze": "Glazes: one dry layer over another.",
    "stock": "Stock: what lies in the drawer, and what is left of it.",
    "wish": "Wishes: paints not owned yet.",
    "lists": "Lists for others: a class by codes, children by labels.",
    "share": "Share: your paints, a chart, a pocket list, each as one HTML file.",
    "back-up": "Back up the studio into one file.",
    "restore": "Restore a studio from a back-up.",
}


# What a help page calls the kinds of value that Python has names for; a switch takes none.
KINDS = {"bool": "", "str": "TEXT", "int": "NUMBER", "float": "NUMBER", "int range": "NUMBER", "path": "FILE",
         "list[str]": "TEXT", "list[float]": "NUMBER", "list[Path]": "FILE"}  # fmt: skip


def _kind_in_words(parameter: Any, ctx: Any) -> str:
    """Return what a help page says of a value: the option's own word, a painter's, or the choices."""
    if isinstance(parameter, TyperArgument):
        return ""  # its name says it
    kind = parameter.display_type(ctx).strip("<>")
    return parameter.metavar or KINDS.get(kind, kind)


for _parameter in (TyperArgument, TyperOption):
    _parameter.display_type_rich = _kind_in_words  # type: ignore[method-assign, assignment]


class LazyNouns(TyperGroup):
    """Nouns are listed from their sentence and imported when one of them is called."""

    def list_commands(self, ctx: Any) -> list[str]:  # noqa: ARG002
        """Return the nouns in the order of the job, not of the alphabet."""
        return list(NOUNS)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:  # noqa: ARG002
        """Return a noun as the help shows it."""
        return TyperCommand(cmd_name, help=NOUNS[cmd_name]) if cmd_name in NOUNS else None

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """Return the noun that was called, with its verbs."""
        if args and args[0] in NOUNS:
            module = import_module(f"halfpan.cli.{args[0].replace('-', '_')}")
            module.app._add_completion = False  # noqa: SLF001 -- said once, here, for every noun
            return args[0], typer.main.get_command(module.app), args[1:]
        if args and (nearest := nearest_commands(args[0])):
            shown = ", ".join(f"`halfpan {command}`" for command in nearest)
            ctx.fail(f"“{args[0]}” alone is no command. Perhaps one of these: {shown}.")
        return super().resolve_command(ctx, args)


def nearest_commands(word: str) -> list[str]:
    """Return the commands that may have been meant: those with such a verb, else nouns written alike."""
    found = []
    for noun in NOUNS:
        command = typer.main.get_command(import_module(f"halfpan.cli.{noun.replace('-', '_')}").app)
        if word in getattr(command, "commands", ()):
            found.append(f"{noun} {word}")
    return found or get_close_matches(word, NOUNS, n=2, cutoff=0.75)


app = typer.Typer(
    cls=LazyNouns,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"halfpan {__version__}")
        raise typer.Exit


@app.callback()
def halfpan(
    ctx: typer.Context,
    *,
    studio: Annotated[
        Path | None,
        typer.Option(
            metavar="DIR",
            help="The studio folder. Without it: $HALFPAN_STUDIO, or your own in your user folder.",
        ),
    ] = None,
    version: Annotated[  # noqa: ARG001
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say the version and stop.")
    ] = False,
) -> None:
    """Know your watercolour paints from evidence: print a chart, paint it, read it."""
    ctx.obj = studio


def main(arguments: list[str] | None = None) -> None:
    """Run a command; a refusal becomes one sentence on stderr and exit code 1."""
    # Halfpan's matrices are small: threads of the library only wait for one another (a page read in 0.5 s
    # takes 3 to 7 s with them on a busy machine). Who sets the variable is heard.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # Thousands of paints are thousands of small values that live as long as the question: looking for
    # rubbish among them every 700 costs a fifth of the time.
    gc.set_threshold(200_000, 20, 20)
    try:
        app(args=arguments)
    except HalfpanError as refusal:
        typer.echo(f"halfpan: {refusal}", err=True)
        sys.exit(1)
