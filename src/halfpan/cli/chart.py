"""``halfpan chart``: rule a sheet, print it, paint it, read it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from halfpan.cli import chart_reading
from halfpan.cli.frame import AsJson, now, opened, progress, put_json, put_text, say, several
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.core.chart.sheet import Chart
    from halfpan.studio.follow_charts import ChartFollowed

app = typer.Typer(help="Charts: rule one, print it, paint it, read it.", no_args_is_help=True)


@app.command("new")
def new(
    ctx: typer.Context,
    *,
    paints: Annotated[
        str,
        typer.Option(
            help="all, a file with names or numbers, or numbers and names with commas between them."
        ),
    ] = "all",
    sheet: Annotated[
        str, typer.Option(help="A4, “A3 landscape”, letter, “quarter imperial”, or 250x350 in mm.")
    ] = "A4",
    out: Annotated[Path, typer.Option(help="The PDF to write; its geometry goes beside it as .json.")] = Path(
        "chart.pdf"
    ),
    title: Annotated[str, typer.Option(help="Heading of the sheet.")] = "",
    margin: Annotated[float, typer.Option(help="Bare edge the printer needs, in mm.")] = 8.0,
    plan: Annotated[
        str, typer.Option(metavar="ROWSxCOLUMNS", help="Follow a tin: boxes as its pans sit.")
    ] = "",
    upside_down: Annotated[
        bool, typer.Option("--upside-down", help="With --plan: the tin turned round.")
    ] = False,
    spare: Annotated[int, typer.Option(help="Boxes that must stay free.")] = 0,
    line: Annotated[
        Literal["printed", "hand"], typer.Option(help="hand: rule the black line yourself in waterproof ink.")
    ] = "printed",
    order: Annotated[
        Literal["proposed", "given", "mine"],
        typer.Option(help="Whose order: Halfpan's, the list's, your own."),
    ] = "proposed",
    paper: Annotated[str, typer.Option(help="The paper it will be painted on, if it is kept here.")] = "",
    kind: Annotated[
        Literal["swatch", "tests", "mixes"],
        typer.Option(help="swatch: a box a paint; tests: how each lifts, layers, thins and repeats; mixes."),
    ] = "swatch",
    test: Annotated[
        list[str] | None,
        typer.Option(
            help="With --kind tests: lifting, second coat, water ladder or repeats; say it again for each."
        ),
    ] = None,
    mix: Annotated[
        list[str] | None,
        typer.Option(
            metavar="“3 PAINT + 1 PAINT”",
            help="With --kind mixes: one to paint; say it again for each. Boxes left over are for your own.",
        ),
    ] = None,
    scale: Annotated[
        float | None, typer.Option(help="1 for a chart in the hand, 1.6 to be seen from 2 m.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Rule a chart: a PDF to print at 100 %, and its geometry."""
    from halfpan.core.chart.sheet import chart_to_dict
    from halfpan.studio.rule_chart import ChartWish, letters_left_out, rule_chart

    wish = ChartWish(
        paints=paints,
        sheet=sheet,
        title=title,
        margin_mm=margin,
        plan=_plan(plan),
        upside_down=upside_down,
        spare=spare,
        line=line,
        order=order,
        paper=paper,
        kind=kind,
        trials=tuple(test or ()),
        mixes=tuple(mix or ()),
        scale=scale,
    )
    with opened(ctx) as studio, progress("ruling the chart"):
        chart, geometry = rule_chart(studio, wish, out, now=now())
    if letters := letters_left_out(chart, title):
        say(f"The print has no shape for these letters and leaves boxes in their place: {' '.join(letters)}")
    if as_json:
        put_json(chart_to_dict(chart))
        return
    pages = several(len(chart.pages), "page")
    put_text(f"Chart {chart.chart}: {_counted(chart)} on {pages} of {chart.sheet.name}.")
    put_text(f"Print {out} at 100 %; its geometry is in {geometry}.")


def _counted(chart: Chart) -> str:
    boxes = [box for page in chart.pages for box in page.boxes]
    if chart.kind == "mixes":
        asked = sum(bool(box.mix) for box in boxes)
        to_fill = several(len(boxes) - asked, "box", "boxes")
        return f"{several(asked, 'mix', 'mixes')} and {to_fill} to fill in"
    paints = {box.paint for box in boxes if box.paint is not None}
    held = several(len(paints), "paint")
    return f"{several(len(boxes), 'test')} of {held}" if chart.kind == "tests" else held


def _plan(text: str) -> tuple[int, int] | None:
    if not text:
        return None
    rows, sign, columns = text.lower().replace("×", "x").partition("x")
    if not (sign and rows.strip().isdigit() and columns.strip().isdigit()):
        raise typer.BadParameter(f"“{text}” is not ROWSxCOLUMNS, for instance 4x12", param_hint="--plan")
    return int(rows), int(columns)


@app.command("list")
def listed(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """List the charts."""
    from halfpan.studio.chart_document import charts_to_dict
    from halfpan.studio.follow_charts import follow_charts

    with opened(ctx) as studio:
        found = follow_charts(studio)
    if as_json:
        put_json(charts_to_dict(found))
        return
    headings = ["chart", "title", "kind", "made", "pages", "paints", "painted", "read", "to bring up to date"]
    rows = [
        (
            one.state.chart,
            one.state.title,
            one.state.kind,
            f"{one.state.made:%Y-%m-%d}",
            one.state.pages,
            one.state.paints,
            one.state.painted,
            one.read,
            _up_to_date(one),
        )
        for one in found
    ]
    put_table("", headings, rows, right=headings[4:8])


def _up_to_date(one: ChartFollowed) -> str:
    told = [f"paint {', '.join(one.repaint)}"] if one.repaint else []
    told += [f"{len(one.elsewhere)} on a sheet of its own"] if one.elsewhere else []
    told += [f"labels of {', '.join(c.box for c in one.changed)}"] if one.changed else []
    return "; ".join(told) or ("boxes of empty seats" if one.moved else "")


app.registered_commands += chart_reading.app.registered_commands
