"""``halfpan mix``: learn, predict, match and plan mixes."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from halfpan.cli.frame import AsJson, opened, put_json, put_text, say, several
from halfpan.cli.frame import now as clock
from halfpan.cli.mix_log import log
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.core.mixing.predict import Prediction
    from halfpan.studio.learn_mixes import Lesson
    from halfpan.studio.match_colour import MatchAnswer

app = typer.Typer(
    help="Mixes: what they will look like, how to reach a colour, which boxes to paint next.",
    no_args_is_help=True,
)
app.add_typer(log, name="log")
Paper = Annotated[str, typer.Option(help="A paper of the studio; else the one most was painted on.")]
Among = Annotated[str, typer.Option("--from", help="all, a tin, a file, or numbers and names with commas.")]
ByEye = Annotated[bool, typer.Option("--by-eye", help="Parts are taken by eye, within a quarter.")]
COLOUR = ["L*", "a*", "b*", "within ΔE00", "screen", "black : white"]


@app.command("learn")
def learn(ctx: typer.Context, *, as_json: AsJson = False) -> None:
    """Learn how the paints mix from every accepted reading, and say what is still unknown."""
    from halfpan.studio.learn_mixes import learn_mixes
    from halfpan.studio.mix_document import lesson_to_dict
    from halfpan.studio.paint_names import names_in

    with opened(ctx) as studio:
        lesson = learn_mixes(studio)
        names = names_in(studio)
    if as_json:
        put_json(lesson_to_dict(lesson, names))
        return
    learnt = len(lesson.learnt.paints)
    put_text(f"Learnt {learnt} paints from {lesson.swatches} swatches and {lesson.mixes} mixes.")
    _show_doubts(lesson, names)


def _show_doubts(lesson: Lesson, names: dict[str, str]) -> None:
    from halfpan.studio.mix_words import mix_in_words

    unknown = [
        (names[u.paint], u.reason, mix_in_words(u.settles.layers[0], names) if u.settles else None)
        for u in lesson.unknown_strength
        if u.reason != "amounts unknown"
    ]
    if unknown:
        put_table("Strength not known", ["paint", "why", "the box that would settle it"], unknown)
    if guessed := len(lesson.unknown_strength) - len(unknown):
        say(f"{guessed} paints: strength only guessed from their full washes; any box mixed with them tells.")
    odd = [
        (s.box, mix_in_words(recipe.layers[0], names), f"{s.apart:.1f}", f"{s.within_delta_e00:.1f}")
        for s, recipe in lesson.suspicious
    ]
    if odd:
        headings = ["box", "mix", "off by ΔE00", "expected within"]
        put_table("Swapped or misread?", headings, odd, right=headings[2:])
    if lesson.without_readings:
        say(f"Left out, with no readings yet: {several(len(lesson.without_readings), 'paint')}.")


@app.command("predict")
def predict(
    ctx: typer.Context,
    mix: Annotated[str, typer.Argument(help="A mix by parts: “3 Scarlet + 1 Ultramarine”.")] = "",
    *,
    table: Annotated[
        Path | None,
        typer.Option(
            help="Many at once: columns paint_a, amount_a, paint_b, amount_b in the readings' unit."
        ),
    ] = None,
    strength: Annotated[
        float, typer.Option(help="Of the wash: 1 is full, 0.25 about mid, 0.08 a tint.")
    ] = 1.0,
    ladder: Annotated[bool, typer.Option("--ladder", help="Five strengths, each half the last.")] = False,
    paper: Paper = "",
    by_eye: ByEye = False,
    as_json: AsJson = False,
) -> None:
    """Predict what a mix will look like, and the radius that 95 % of painted boxes fall in."""
    from halfpan.files.tables import read_table
    from halfpan.studio.mix_document import predictions_to_dict
    from halfpan.studio.mix_words import mix_in_words
    from halfpan.studio.predict_mix import LADDER, predict_mix, predict_table

    if bool(mix) == bool(table):
        raise typer.BadParameter("give a mix in words, or --table FILE", param_hint="MIX")
    with opened(ctx) as studio:
        if table is not None:
            found = predict_table(studio, read_table(table), paper=paper, by_eye=by_eye)
        else:
            steps = [strength * step for step in LADDER] if ladder else [strength]
            found = predict_mix(studio, mix, strengths=steps, paper=paper, by_eye=by_eye)
    if as_json:
        put_json(predictions_to_dict(found.predictions))
        return
    words = [mix or mix_in_words(p.recipe.layers[0], found.names) for p in found.predictions]
    show_predictions(words, found.predictions)


def show_predictions(words: list[str], predictions: tuple[Prediction, ...]) -> None:
    """Show predicted colours, one a row."""
    rows = [(text, *colour_cells(p), "; ".join(p.flags)) for text, p in zip(words, predictions, strict=True)]
    put_table("", ["mix", *COLOUR, "to know"], rows, right=COLOUR)


def colour_cells(prediction: Prediction) -> tuple[str, ...]:
    """Return the cells that tell a predicted colour, in the order of `COLOUR`."""
    L, a, b = prediction.lab
    return (
        f"{L:.1f}",
        f"{a:.1f}",
        f"{b:.1f}",
        f"{prediction.within_delta_e00:.1f}",
        prediction.screen,
        f"{prediction.contrast_ratio:.2f}",
    )


@app.command("match")
def match(
    ctx: typer.Context,
    colour: Annotated[str, typer.Argument(help="L,a,b such as “45,-20,30”, or #rrggbb.")],
    *,
    among: Among = "all",
    paints: Annotated[int, typer.Option(help="How many paints a mix may hold, 1 to 4.")] = 3,
    count: Annotated[int, typer.Option(help="How many mixes to show.")] = 12,
    paper: Paper = "",
    as_json: AsJson = False,
) -> None:
    """Find the mixes that come nearest to a colour, in whole parts; painted boxes come first, as proof."""
    from halfpan.studio.match_colour import colour_in_words, find_match
    from halfpan.studio.mix_document import match_to_dict

    lab = colour_in_words(colour)
    with opened(ctx) as studio:
        answer = find_match(studio, lab, among=among, most=paints, count=count, paper=paper)
    if as_json:
        put_json(match_to_dict(answer))
        return
    _show_match(answer)


def _show_match(answer: MatchAnswer) -> None:
    from halfpan.studio.mix_words import mix_in_words

    near = [one for one in answer.painted if one.apart <= 5]
    if near:
        proofs = [
            (
                one.observation.box,
                mix_in_words(one.observation.recipe.layers[0], answer.names),
                f"{one.apart:.1f}",
            )
            for one in near
        ]
        put_table("Painted already", ["box", "mix", "ΔE00"], proofs, right=["ΔE00"])
    rows = [
        (
            " + ".join(f"{n} {answer.names[p]}" for p, n in one.parts),
            " ".join(code for p, _ in one.parts for code in answer.paints[p].codes),
            f"{one.strength:.2f}",
            f"{one.apart:.1f}",
            f"{one.prediction.within_delta_e00:.1f}",
            one.verdict,
            "; ".join(f"{witness}: {said.text}" for witness, said in light.items() if said),
        )
        for one, light in zip(answer.matches, answer.light, strict=True)
    ]
    headings = ["mix", "codes", "strength", "ΔE00", "within", "verdict", "weakest in light"]
    put_table("Predicted", headings, rows, right=headings[2:5])
    if not answer.reached:
        put_text("No mix of these paints is sure to reach this colour; the nearest are shown.")
    if answer.left_out:
        say(f"Left out, with no readings yet: {several(len(answer.left_out), 'paint')}.")


@app.command("plan")
def plan(
    ctx: typer.Context,
    *,
    boxes: Annotated[int, typer.Option(help="How many boxes you want to paint.")] = 13,
    among: Among = "all",
    new_tube: Annotated[str, typer.Option(help="Only boxes with this paint: what teaches most of it.")] = "",
    out: Annotated[Path | None, typer.Option(help="Print the boxes as a sheet to paint: a .pdf.")] = None,
    sheet: Annotated[str, typer.Option(help="Its size: A4, letter, or WIDTHxHEIGHT in mm.")] = "A4",
    as_json: AsJson = False,
) -> None:
    """Say which boxes are worth painting next, the most telling first, and what they will be worth."""
    from halfpan.studio.mix_document import plan_to_dict
    from halfpan.studio.mix_words import mix_in_words
    from halfpan.studio.plan_mixes import plan_mixes
    from halfpan.studio.print_plan import print_plan

    with opened(ctx) as studio:
        found = plan_mixes(
            studio, boxes=boxes, among=among, new_tube=new_tube, by_parts=True if out else None
        )
        if out is not None:
            chart, geometry = print_plan(studio, found, out, sheet=sheet, now=clock())
            say(f"Chart {chart.chart}: {out} and {geometry}.")
    if as_json:
        put_json(plan_to_dict(found))
        return
    rows = [
        (i, mix_in_words(wash, found.names), f"{after:.1f}")
        for i, (wash, after) in enumerate(zip(found.washes(), found.plan.after_each, strict=True), 1)
    ]
    put_table("Boxes to paint", ["", "mix", "mean radius then"], rows, right=["", "mean radius then"])
    now, then = found.plan.now_delta_e00, found.plan.forecast_delta_e00
    more = several(len(rows), "more box", "more boxes")
    put_text(f"{more}: mean 95 % radius ΔE00 {now:.1f}, then about {then:.1f}.")
    if found.left_out:
        say(f"Left out, with no readings yet: {several(len(found.left_out), 'paint')}.")


@app.command("reach")
def reach(
    ctx: typer.Context,
    first: Annotated[str, typer.Argument(metavar="PAINT")],
    second: Annotated[str, typer.Argument(metavar="PAINT")],
    *,
    paper: Paper = "",
    as_json: AsJson = False,
) -> None:
    """Show what two paints can give, from one to the other and from strong to thin."""
    from halfpan.core.colour.screen import lab_to_hex
    from halfpan.studio.match_colour import reach_of
    from halfpan.studio.mix_document import reach_to_dict

    with opened(ctx) as studio:
        found, names = reach_of(studio, first, second, paper=paper)
    if as_json:
        put_json(reach_to_dict(found, names))
        return
    headings = ["strength", *(f"{share:.0%}" for share in found.shares)]
    rows = [
        (f"{strength:g}", *(lab_to_hex(lab) for lab in row))
        for strength, row in zip(found.strengths, found.lab, strict=True)
    ]
    put_table(f"{names[found.first]} to {names[found.second]}, share of the second", headings, rows)


@app.command("identify")
def identify(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="PAINT", help="A mixed paint that was read.")],
    *,
    among: Among = "all",
    paints: Annotated[int, typer.Option(help="How many paints a mix may hold, 1 to 3.")] = 3,
    as_json: AsJson = False,
) -> None:
    """Find which of your single-pigment paints, in what parts, look like a mixed paint."""
    from halfpan.studio.match_colour import identify_mixed
    from halfpan.studio.mix_document import likely_to_dict

    with opened(ctx) as studio:
        found, names = identify_mixed(studio, paint, among=among, most=paints)
    if as_json:
        put_json(likely_to_dict(found, names))
        return
    rows = [
        (" + ".join(f"{n} {names[p]}" for p, n in one.parts), f"{one.apart:.1f}",
         ", ".join(f"{apart:.1f}" for apart in one.apart_each))
        for one in found
    ]  # fmt: skip
    put_table(f"Looks like {paint}", ["mix", "mean ΔE00", "at each strength"], rows, right=["mean ΔE00"])
    say("Looking alike is no proof of what is in the tube.")
