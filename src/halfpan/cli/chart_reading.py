"""The verbs of ``halfpan chart`` that read photos, and say what a box is for."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from halfpan.cli.frame import AsJson, now, opened, progress, put_json, put_text, say, several
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.studio.read_chart import ChartRead

app = typer.Typer()


@app.command("read")
def read(
    ctx: typer.Context,
    photos: Annotated[
        list[Path], typer.Argument(metavar="PHOTO...", help="Scans or photos of painted pages.")
    ],
    *,
    chart: Annotated[str, typer.Option(help="The chart, where its printed code cannot be read.")] = "",
    page: Annotated[int | None, typer.Option(help="The page, likewise.")] = None,
    target: Annotated[
        str, typer.Option(help="found: use a 24-patch target if one is seen; none; or a file of its colours.")
    ] = "found",
    blank: Annotated[
        Path | None, typer.Option(help="A photo of a blank sheet from the same place, to even the light.")
    ] = None,
    review: Annotated[bool, typer.Option("--review", help="Leave every reading to be looked at.")] = False,
    again: Annotated[bool, typer.Option("--again", help="Read photos anew that were read before.")] = False,
    new_boxes: Annotated[
        bool, typer.Option("--new-boxes", help="Keep only boxes that have no accepted reading yet.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Read painted pages: every box named, measured and doubted. Originals are kept."""
    from halfpan.studio.measuring import ReadWish
    from halfpan.studio.read_chart import read_chart
    from halfpan.studio.read_document import read_to_dict

    wish = ReadWish(
        chart=chart, page=page, target=target, blank=blank, review=review, again=again, new_boxes=new_boxes
    )
    with opened(ctx) as studio, progress("reading") as bar:
        found = read_chart(
            studio, photos, wish, now=now(), tell=lambda doing: bar.update(bar.task_ids[0], description=doing)
        )
    if as_json:
        put_json(read_to_dict(found))
    else:
        show_read(found)


@app.command("rule")
def rule(
    ctx: typer.Context,
    photo: Annotated[Path, typer.Argument(metavar="PHOTO", help="A photo of a hand-ruled or older chart.")],
    *,
    corners: Annotated[
        str,
        typer.Option(
            metavar="“x,y x,y x,y x,y”",
            help="Outer corners of the boxes, in pixels, round from the first box.",
        ),
    ] = "",
    rows: Annotated[int | None, typer.Option(min=1, help="How many rows of boxes.")] = None,
    columns: Annotated[int | None, typer.Option(min=1, help="How many boxes in a row.")] = None,
    paints: Annotated[str, typer.Option(help="As for `chart new`, in the order they were painted.")] = "",
    order: Annotated[
        Literal["reading", "snake", "column"], typer.Option(help="How the boxes were filled.")
    ] = "reading",
    skip: Annotated[str, typer.Option(help="Boxes that are not there, with commas: A3,B1.")] = "",
    corrections: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE", help="Boxes put right by hand, as JSON: skip, move, size or merge, by box."
        ),
    ] = None,
    target: Annotated[
        str,
        typer.Option(
            help="found, none, or a file of colours: one for each box, or those of a target beside."
        ),
    ] = "found",
    paper: Annotated[str, typer.Option(help="The paper it is painted on, if it is kept here.")] = "",
    title: Annotated[str, typer.Option(help="What to call the chart.")] = "",
    review: Annotated[bool, typer.Option("--review", help="Leave every reading to be looked at.")] = False,
    as_json: AsJson = False,
) -> None:
    """Read a chart that Halfpan did not print. Without --corners its boxes are looked for."""
    from halfpan.studio.read_document import read_to_dict
    from halfpan.studio.rule_photo import GridWish, rule_photo

    wish = GridWish(
        corners=_corners(corners),
        rows=rows,
        columns=columns,
        paints=paints,
        order=order,
        skip=tuple(part for part in skip.split(",") if part.strip()),
        corrections=corrections,
        target=target,
        paper=paper,
        title=title,
        review=review,
    )
    with opened(ctx) as studio, progress("reading the boxes"):
        found = rule_photo(studio, photo, wish, now=now())
    if as_json:
        put_json(read_to_dict(found))
    else:
        show_read(found)


def _corners(text: str) -> tuple[tuple[float, float], ...]:
    if not text.strip():
        return ()
    try:
        pairs = [tuple(float(part) for part in pair.split(",")) for pair in text.split()]
        points = tuple((x, y) for x, y in pairs)
    except ValueError:
        points = ()
    if len(points) != 4:
        raise typer.BadParameter(f"“{text}” is not “x,y x,y x,y x,y”", param_hint="--corners")
    return points


def show_read(found: ChartRead) -> None:
    """Answer with what was read of a chart: light, swatches, what stayed unread, how many readings."""
    check = found.light.check_delta_e00
    tried = f", which foretells its own patches within {check:.1f}" if check is not None else ""
    say(f"Light of chart {found.chart}: {found.light.tier}{tried}.")
    if found.again:
        say("These photos had been read before; nothing was added.")
    rows = [
        (
            one.swatch.box,
            found.names.get(one.swatch.paint or "", "no paint yet"),
            _lab(one.swatch.masstone),
            f"± {one.swatch.within_delta_e00:.1f}" if one.swatch.within_delta_e00 is not None else "",
            _lab(one.swatch.tint),
            one.swatch.transparency,
            one.state,
        )
        for one in found.swatches
    ]
    headings = ["box", "paint", "full strength", "within", "tint", "over black", "state"]
    put_table("", headings, rows, right=["box"])
    for one in found.unread:
        put_text(f"Box {one.box} unread: {one.reason}")
    waiting = sum(one.reading.state == "to review" for one in found.readings)
    put_text(f"{several(len(found.readings), 'reading')}, {waiting} of them to review.")


def _lab(lab: tuple[float, float, float] | None) -> str:
    return "" if lab is None else f"{lab[0]:.1f} {lab[1]:+.1f} {lab[2]:+.1f}"


@app.command("assign")
def assign(
    ctx: typer.Context,
    chart: Annotated[str, typer.Argument(metavar="CHART")],
    box: Annotated[str, typer.Argument(metavar="BOX")],
    paint: Annotated[str, typer.Argument(metavar="PAINT")],
    *,
    page: Annotated[int | None, typer.Option(help="The page, where two pages have such a box.")] = None,
) -> None:
    """Say what a spare box is for, or correct it; what was read there goes with it."""
    from halfpan.studio.assign_box import assign_box

    with opened(ctx) as studio:
        kept = assign_box(studio, chart, box, paint, now=now(), page=page)
    put_text(f"Box {box} of chart {kept.chart} is for {paint} now.")
