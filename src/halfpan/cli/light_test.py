"""``halfpan light-test``: hang a sheet in a window, look at it over months, see what changed."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from halfpan.cli.chart_reading import show_read
from halfpan.cli.frame import AsJson, day, now, opened, progress, put_json, put_text
from halfpan.cli.light_answers import counted, put_remark, put_test
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.studio.follow_light_tests import Followed

app = typer.Typer(
    help="Light tests: hang a sheet in a window, look at it over months, see what changed.",
    no_args_is_help=True,
)

Name = Annotated[str, typer.Argument(metavar="NAME", help="The test's name or number.")]
Place = Annotated[str | None, typer.Option(help="Where it hangs.")]
Facing = Annotated[str | None, typer.Option(help="Which way the window faces: south, north-east, …")]
Glass = Annotated[str | None, typer.Option(help="What lies over it: plain window glass, …")]
Latitude = Annotated[float | None, typer.Option(help="Degrees; below 0 south of the equator.")]
Lux = Annotated[float | None, typer.Option(help="Mean light at the sheet, in lux, if it was measured.")]
Hours = Annotated[float | None, typer.Option(help="Hours of that light a day.")]
Looks = Annotated[str, typer.Option(help="Days on which to look: 7, 14, 30, 60, 120 if none are said.")]


@app.command("start")
def start(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="NAME", help="What to call it: “South window”.")],
    *,
    paints: Annotated[
        str,
        typer.Option(
            help="all, a file with names or numbers, or numbers and names with commas between them."
        ),
    ] = "all",
    sheet: Annotated[str, typer.Option(help="A4, A5, letter, or 250x350 in mm.")] = "A4",
    out: Annotated[Path, typer.Option(help="The PDF to write; its geometry goes beside it as .json.")] = Path(
        "light-test.pdf"
    ),
    on: Annotated[
        date | None,
        typer.Option(metavar="DAY", parser=day, help="The day it goes into the window; today if none."),
    ] = None,
    place: Place = None,
    facing: Facing = None,
    glass: Glass = None,
    latitude: Latitude = None,
    lux: Lux = None,
    hours: Hours = None,
    looks: Looks = "",
    paper: Annotated[str, typer.Option(help="The paper it will be painted on, if it is kept here.")] = "",
    as_json: AsJson = False,
) -> None:
    """Rule the sheet of a light test, and note where and since when it hangs."""
    from halfpan.collection.light_tests import LightTest
    from halfpan.studio.follow_light_tests import follow_light_test
    from halfpan.studio.hang_strip import days_to_look, hang_strip
    from halfpan.studio.light_document import light_test_to_dict
    from halfpan.studio.rule_chart import ChartWish

    test = LightTest(
        name,
        on or now().date(),
        place=place or "",
        facing=facing or "",
        glass=glass or "",
        latitude_deg=latitude,
        looks=days_to_look(looks),
        lux=lux,
        hours_a_day=hours,
    )
    wish = ChartWish(paints=paints, sheet=sheet, paper=paper)
    with opened(ctx) as studio, progress("ruling the sheet"):
        hung = hang_strip(studio, test, wish, out, now=now())
        found = follow_light_test(studio, name, now=now())
    if as_json:
        put_json(light_test_to_dict(found))
        return
    put_text(
        f"Light test {hung.test.name}: {counted(found)} on chart {hung.chart.chart}. Print {out} at 100 %; "
        f"its geometry is in {hung.geometry}."
    )
    put_text(
        "Paint it, let it dry, photograph it before it goes into the window, then cover the left halves."
    )
    put_remark(found)


@app.command("read")
def read(
    ctx: typer.Context,
    photos: Annotated[list[Path], typer.Argument(metavar="PHOTO...", help="Photos of the uncovered sheet.")],
    *,
    on: Annotated[
        date | None,
        typer.Option(
            metavar="DAY", parser=day, help="The day it looked like this, if the photo's own date is not it."
        ),
    ] = None,
    target: Annotated[
        str, typer.Option(help="found: use a 24-patch target if one is seen; none; or a file of its colours.")
    ] = "found",
    review: Annotated[bool, typer.Option("--review", help="Leave every reading to be looked at.")] = False,
    again: Annotated[bool, typer.Option("--again", help="Read photos anew that were read before.")] = False,
    as_json: AsJson = False,
) -> None:
    """Read a sheet and say what has changed. `chart read` keeps the same look."""
    from halfpan.studio.follow_light_tests import follow_light_test
    from halfpan.studio.light_document import light_test_to_dict
    from halfpan.studio.measuring import ReadWish
    from halfpan.studio.read_chart import read_chart

    wish = ReadWish(target=target, review=review, again=again, seen=on, light_only=True)
    with opened(ctx) as studio, progress("reading"):
        found = read_chart(studio, photos, wish, now=now())
        test = follow_light_test(studio, found.chart, now=now())
    if as_json:
        put_json(light_test_to_dict(test))
        return
    show_read(found)
    put_test(test)


@app.command("due")
def due(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """Say which sheets to look at now, and which paints to test first."""
    from halfpan.studio.follow_light_tests import due_now
    from halfpan.studio.light_document import due_to_dict

    with opened(ctx) as studio:
        found = due_now(studio, now=now())
    if as_json:
        put_json(due_to_dict(found))
        return
    for one in found.look:
        put_text(
            f"Look at {one.test.name}: {one.days} days in the window, day {one.due} was to be looked at."
        )
        put_remark(one)
    if not found.look:
        put_text("No light test is to be looked at now.")
    rows = [
        (one.paint.name, one.paint.maker, "doubtful by the " + " and the ".join(one.doubtful)
         if one.doubtful else "nobody can tell",
         one.statement.label.text if one.statement.label else "",
         one.statement.literature.text if one.statement.literature else "")
        for one in found.first
    ]  # fmt: skip
    if rows:
        put_table("Test these first", ["paint", "maker", "why", "label", "literature"], rows,
                  note="A place here means “test”, not “bad”.")  # fmt: skip


@app.command("list")
def listed(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """List the light tests."""
    from halfpan.studio.follow_light_tests import follow_light_tests
    from halfpan.studio.light_document import light_tests_to_dict

    with opened(ctx) as studio:
        found = follow_light_tests(studio, now=now())
    if as_json:
        put_json(light_tests_to_dict(found))
        return
    rows = [
        (one.test.id, one.test.name, one.test.chart, one.test.place, one.test.started.isoformat(), one.days,
         len(one.paints), ", ".join(map(str, one.looked)), _when(one))
        for one in found
    ]  # fmt: skip
    headings = ["test", "name", "chart", "place", "since", "days", "paints", "looked on day", "next"]
    put_table("", headings, rows, right=["test", "days", "paints"])


def _when(one: Followed) -> str:
    if one.test.ended is not None:
        return f"ended {one.test.ended.isoformat()}"
    return f"now, day {one.due}" if one.due is not None else f"day {one.next}" if one.next else "plan is done"


@app.command("show")
def show(ctx: typer.Context, name: Name, *, as_json: AsJson = False) -> None:
    """Show one light test: what changed, with its doubt, and since when."""
    from halfpan.studio.follow_light_tests import follow_light_test
    from halfpan.studio.light_document import light_test_to_dict

    with opened(ctx) as studio:
        found = follow_light_test(studio, name, now=now())
    if as_json:
        put_json(light_test_to_dict(found))
        return
    put_test(found)


@app.command("correct")
def correct(
    ctx: typer.Context,
    name: Name,
    *,
    on: Annotated[
        date | None, typer.Option(metavar="DAY", parser=day, help="The day it went into the window.")
    ] = None,
    place: Place = None,
    facing: Facing = None,
    glass: Glass = None,
    latitude: Latitude = None,
    lux: Lux = None,
    hours: Hours = None,
    looks: Looks = "",
) -> None:
    """Put right what is noted of a light test."""
    from halfpan.studio.hang_strip import correct_strip, days_to_look

    given: dict[str, Any] = {
        "started": on,
        "place": place,
        "facing": facing,
        "glass": glass,
        "latitude_deg": latitude,
        "lux": lux,
        "hours_a_day": hours,
        "looks": days_to_look(looks) if looks else None,
    }
    values = {key: value for key, value in given.items() if value is not None}
    with opened(ctx) as studio:
        test = correct_strip(studio, name, now=now(), **values)
    put_text(f"Light test {test.name}: {', '.join(values)} noted.")


@app.command("end")
def end(
    ctx: typer.Context,
    name: Name,
    *,
    on: Annotated[
        date | None,
        typer.Option(metavar="DAY", parser=day, help="The day it came out of the window; today if none."),
    ] = None,
) -> None:
    """End a light test: the sheet was taken out of the window."""
    from halfpan.studio.hang_strip import end_strip

    with opened(ctx) as studio:
        test = end_strip(studio, name, on, now=now())
    put_text(f"Light test {test.name} ended; what it showed stays.")


@app.command("wool")
def wool(
    ctx: typer.Context,
    name: Name,
    paint: Annotated[str, typer.Argument(metavar="PAINT")],
    number: Annotated[int, typer.Argument(metavar="WOOL", help="1 to 8.")],
    *,
    strength: Annotated[Literal["full", "thin"], typer.Option(help="Which of its strokes.")] = "thin",
) -> None:
    """Note which blue wool reference beside the sheet has changed as much as a paint."""
    from halfpan.core.fading.exposure import sensitivity
    from halfpan.studio.hang_strip import note_wool

    with opened(ctx) as studio:
        meant = note_wool(studio, name, paint, number, strength=strength, now=now())
    put_text(
        f"{meant.name} changed as much as blue wool {number} ({sensitivity(number)} sensitivity to light)."
    )
