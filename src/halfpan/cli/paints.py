"""``halfpan paints``: the collection."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from halfpan.cli import paint_changes, paint_labels, paint_likeness, paint_order
from halfpan.cli.frame import AsJson, now, opened, put_json, put_text, say, several
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.core.paint.reading import Swatch
    from halfpan.files.tables import Table
    from halfpan.studio.add_paints import PaintList
    from halfpan.studio.show_paint import PaintShown

app = typer.Typer(help="Your paints: add, list, show, correct, undo.", no_args_is_help=True)


@app.command("add")
def add(
    ctx: typer.Context,
    source: Annotated[
        str,
        typer.Argument(metavar="FILE|-", help="A csv file or workbook, or - for a list on standard input."),
    ] = "",
    *,
    paint: Annotated[
        list[str] | None,
        typer.Option(help="One paint typed in: “maker, range, name, codes”. May be given several times."),
    ] = None,
    maker: Annotated[str, typer.Option(help="The maker, where the list has no such column.")] = "",
    range_name: Annotated[str, typer.Option("--range", help="The range, likewise.")] = "",
    column: Annotated[
        list[str] | None,
        typer.Option(help="Correct the guess: FIELD=HEADING or FIELD=NUMBER; FIELD= for “not in this list”."),
    ] = None,
    preview: Annotated[bool, typer.Option("--preview", help="Show what would happen; keep nothing.")] = False,
    as_json: AsJson = False,
) -> None:
    """Add a list of paints. The same list twice adds nothing twice; `halfpan paints undo` takes it back."""
    from halfpan.studio.add_paints import add_paints, preview_list

    table = _table(source, paint or [])
    guesses: dict[str, Any] = {
        "columns": dict(_pair(one) for one in column or []),
        "maker": maker,
        "range_name": range_name,
    }
    with opened(ctx) as studio:
        if preview:
            understood = preview_list(studio, table, **guesses)
        else:
            understood = add_paints(studio, table, now=now(), **guesses)
    if as_json:
        put_json(_list_document(understood, kept=not preview))
    else:
        _show_list(understood, kept=not preview)


def _pair(text: str) -> tuple[str, str]:
    field, sign, where = text.partition("=")
    if not sign:
        raise typer.BadParameter(f"“{text}” is not FIELD=HEADING", param_hint="--column")
    return field.strip(), where.strip()


def _table(source: str, typed: list[str]) -> Table:
    from halfpan.files.tables import parse_table, read_table, table_of

    if bool(source) == bool(typed):
        raise typer.BadParameter("give a file, or - for standard input, or --paint", param_hint="FILE|-")
    if typed:
        return parse_table("\n".join(typed), "what was typed")
    return table_of(sys.stdin.buffer.read(), "the list") if source == "-" else read_table(Path(source))


def _list_document(understood: PaintList, *, kept: bool) -> dict[str, Any]:
    from halfpan.studio.paint_document import paint_to_dict

    return {
        "kept": kept,
        "columns": {field: at + 1 for field, at in understood.columns.found.items()},
        "unread_columns": list(understood.columns.unread),
        "notes": list(understood.notes),
        "lines": [
            {
                "line": one.entry.line,
                "outcome": one.outcome,
                "paint": one.paint,
                "read_as": paint_to_dict(one.entry.paint) if one.entry.paint else None,
                "problems": [
                    {"field": p.field, "problem": p.text, "proposal": p.proposal} for p in one.entry.problems
                ],
            }
            for one in understood.lines
        ],
    }


def _show_list(understood: PaintList, *, kept: bool) -> None:
    columns = understood.columns
    for note in understood.notes:
        say(note)
    how = "by their headings" if columns.by_heading else "by what the cells look like"
    in_order = sorted(columns.found.items(), key=lambda pair: pair[1])
    say(f"Columns understood {how}: " + ", ".join(f"{field} = {at + 1}" for field, at in in_order))
    if columns.unread:
        say("Columns left alone: " + ", ".join(columns.unread) + ". Use --column if one of them is wanted.")
    asked = [
        (one.entry.line, p.field, p.text, p.proposal) for one in understood.lines for p in one.entry.problems
    ]
    if asked:
        put_table("To look at", ["line", "field", "what", "perhaps"], asked, right=["line"])
    outcomes = dict.fromkeys(one.outcome for one in understood.lines)
    counts = ", ".join(f"{understood.counted(one)} {one}" for one in outcomes) or "no paints in this list"
    put_text(f"{'Kept' if kept else 'Would be'}: {counts}.")


@app.command("list")
def listed(
    ctx: typer.Context,
    words: Annotated[str, typer.Argument(help="Only paints in which these words occur.")] = "",
    *,
    wished: Annotated[bool, typer.Option("--wished", help="The wish list instead.")] = False,
    as_json: AsJson = False,
) -> None:
    """List the paints."""
    from halfpan.studio.list_paints import list_paints
    from halfpan.studio.paint_document import paint_to_dict

    with opened(ctx) as studio:
        found = list_paints(studio, words, owned=not wished)
    if as_json:
        put_json({"paints": [paint_to_dict(one) for one in found]})
        return
    headings = ["number", "name", "codes", "maker", "range", "form", "place"]
    put_table(
        "",
        headings,
        [(p.id, p.name, " ".join(p.codes), p.maker, p.range, p.form, p.place) for p in found],
        note=several(len(found), "paint"),
    )


@app.command("show")
def show(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="PAINT", help="Id, or a name only one answers to.")],
    *,
    as_json: AsJson = False,
) -> None:
    """Show all that is known of one paint."""
    from halfpan.studio.show_paint import show_paint, shown_to_dict

    with opened(ctx) as studio:
        shown = show_paint(studio, paint)
    if as_json:
        put_json(shown_to_dict(shown))
    else:
        _show_paint(shown)


def _show_paint(shown: PaintShown) -> None:
    from halfpan.core.paint.cautions import DEFER, NONE_RECORDED
    from halfpan.core.paint.laying import laying_words

    one = shown.paint
    facts = [
        ("maker", one.maker), ("range", one.range), ("codes", " ".join(one.codes)),
        ("codes as printed", one.label.codes), ("also called", ", ".join(one.other_names)),
        ("series", one.series), ("tags", ", ".join(one.tags)), ("notes", one.notes),
        ("health label", one.label.health),
        ("boxes", ", ".join(f"{box} of chart {chart}" for chart, _, box in shown.boxes)),
        ("in the drawer", ", ".join(" ".join(p for p in (i.form, i.place) if p) for i in shown.items)),
    ]  # fmt: skip
    put_table(f"{one.id}  {one.name}", ["", ""], [fact for fact in facts if fact[1]])
    if shown.swatch is not None:
        put_table("As painted", ["", "L* a* b*", "within"], _states(shown.swatch.swatch))
        put_table("How the wash lies", ["", ""], list(laying_words(shown.swatch.swatch).items()))
    rows = [
        (
            s.property,
            *(said.text if said else "" for said in (s.label, s.literature, s.proof)),
            s.disagreement,
        )
        for s in shown.statements
    ]
    put_table("", ["", "label", "literature", "proof", "where they disagree"], rows)
    for caution in shown.cautions:
        put_text(f"Caution, {caution.witness}: {caution.text}")
    put_text(DEFER if shown.cautions else NONE_RECORDED)


def _states(swatch: Swatch) -> list[tuple[str, str, str]]:
    states = (("full strength", swatch.masstone), ("mid", swatch.mid), ("tint", swatch.tint))
    within = f"± {swatch.within_delta_e00:.1f}" if swatch.within_delta_e00 is not None else ""
    return [
        (name, f"{lab[0]:.1f} {lab[1]:+.1f} {lab[2]:+.1f}", within) for name, lab in states if lab is not None
    ]


@app.command("edit")
def edit(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="PAINT")],
    *,
    name: Annotated[str | None, typer.Option()] = None,
    maker: Annotated[str | None, typer.Option()] = None,
    range_name: Annotated[str | None, typer.Option("--range")] = None,
    codes: Annotated[str | None, typer.Option(help="All codes in label order: “PB29 PBk9”.")] = None,
    series: Annotated[str | None, typer.Option()] = None,
    notes: Annotated[str | None, typer.Option()] = None,
    tag: Annotated[list[str] | None, typer.Option(help="All tags; may be given several times.")] = None,
    also: Annotated[list[str] | None, typer.Option(help="Other names on its tubes.")] = None,
    favourite: Annotated[bool | None, typer.Option("--favourite/--not-favourite")] = None,
) -> None:
    """Correct a paint. What its label prints is kept as it was printed."""
    from halfpan.studio.correct_paint import correct_paint

    values: dict[str, Any] = {
        "name": name, "series": series, "notes": notes, "tags": tuple(tag) if tag else None,
        "other_names": tuple(also) if also else None, "favourite": favourite,
    }  # fmt: skip
    given = {key: value for key, value in values.items() if value is not None}
    with opened(ctx) as studio:
        held = correct_paint(
            studio, paint, now=now(), maker=maker, range_name=range_name, codes=codes, **given
        )
    put_text(f"{held.id}  {held.name}: {held.maker}, {held.range}, {' '.join(held.codes) or 'codes unknown'}")


@app.command("remove")
def remove(ctx: typer.Context, paint: Annotated[str, typer.Argument(metavar="PAINT")]) -> None:
    """Put a paint away. Its charts and readings stay; `halfpan paints undo` brings it back."""
    from halfpan.studio.correct_paint import remove_paint

    with opened(ctx) as studio:
        gone = remove_paint(studio, paint, now=now())
    put_text(f"Removed {gone.id}  {gone.name}.")


@app.command("export")
def export(
    ctx: typer.Context, out: Annotated[Path, typer.Argument(metavar="FILE", help=".csv or .xlsx")]
) -> None:
    """Write the list with what was read of each paint, for a spreadsheet."""
    from halfpan.studio.export_paints import export_paints

    with opened(ctx) as studio:
        count = export_paints(studio, out)
    put_text(f"{several(count, 'paint')} written to {out}.")


for verbs in (paint_changes, paint_labels, paint_likeness, paint_order):
    app.registered_commands += verbs.app.registered_commands
