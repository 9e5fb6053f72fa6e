"""Verbs of ``halfpan tin`` about what paints reach: choose a few, see the gaps, find greys and darks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

import typer

from halfpan.cli.frame import AsJson, now, opened, progress, put_json, put_text, say, several
from halfpan.cli.paint_likeness import shown_names
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from halfpan.core.arranging.opposites import PairMix
    from halfpan.core.paint.reading import Lab
    from halfpan.studio.choose_paints import ChoiceAnswer, Chosen

app = typer.Typer()

Which = Annotated[str, typer.Argument(metavar="TIN|all", help="A tin, a list, or all that is owned.")]


@app.command("choose")
def choose(
    ctx: typer.Context,
    count: Annotated[int, typer.Argument(metavar="N", help="How many paints, 1 to 24.")],
    *,
    among: Annotated[str, typer.Option(help="all, a tin, a file, or numbers and names with commas.")] = "all",
    wished: Annotated[bool, typer.Option("--wished", help="Wishes that were read may be taken too.")] = False,
    single: Annotated[bool, typer.Option("--single", help="Single-pigment paints only.")] = False,
    lasting: Annotated[
        bool, typer.Option("--lasting", help="Only paints that hold in light, by --by.")
    ] = False,
    by: Annotated[
        Literal["label", "literature", "proof"], typer.Option(help="The witness that is asked.")
    ] = "label",
    without: Annotated[
        list[str] | None, typer.Option(metavar="SUBSTANCE|CODE", help="Such as cadmium, cobalt, PR108.")
    ] = None,
    granulating: Annotated[bool, typer.Option("--granulating", help="At least one, by --by.")] = False,
    dark: Annotated[bool, typer.Option("--dark", help="At least one strong dark, L* 35 or less.")] = False,
    budget: Annotated[float | None, typer.Option(help="The prices may not add up to more.")] = None,
    must: Annotated[list[str] | None, typer.Option(metavar="PAINT", help="Has to be in the set.")] = None,
    must_not: Annotated[list[str] | None, typer.Option(metavar="PAINT", help="May not be in it.")] = None,
    sets: Annotated[int, typer.Option(help="How many different good sets.")] = 3,
    prove: Annotated[
        float | None,
        typer.Option(metavar="SECONDS", help="Look so long for a proof, or for what none can pass."),
    ] = None,
    into: Annotated[
        str, typer.Option(metavar="TIN", help="Put the best set into this tin and seat it.")
    ] = "",
    as_json: AsJson = False,
) -> None:
    """Choose the few paints whose mixes reach most."""
    from halfpan.core.arranging.demands import Demands
    from halfpan.studio.choice_document import choice_to_dict
    from halfpan.studio.choose_paints import choose_paints, demanded_ids
    from halfpan.studio.lay_tin import fill_tin
    from halfpan.studio.seat_tin import seat_tin

    with opened(ctx) as studio, progress("working out what the paints reach"):
        demands = Demands(
            single=single,
            lasting=lasting,
            by=by,
            without=tuple(without or ()),
            granulating=granulating,
            dark=dark,
            budget=budget,
            must=demanded_ids(studio, must or []),
            must_not=demanded_ids(studio, must_not or []),
        )
        answer = choose_paints(
            studio, count, demands, among=among, wished=wished, sets=sets, prove_seconds=prove
        )
        if into:
            fill_tin(studio, into, list(answer.sets[0].paints), now=now())
            seat_tin(studio, into, now=now())
    if as_json:
        put_json(choice_to_dict(answer))
        return
    _put_choice(answer, by)


def _words(labs: Sequence[Lab]) -> str:
    from halfpan.core.colour.notation import hue_words
    from halfpan.core.colour.screen import lab_to_hex

    return ", ".join(f"{hue_words(lab)} {lab_to_hex(lab)}" for lab in labs) or "nothing"


def _put_choice(answer: ChoiceAnswer, by: str) -> None:
    names = shown_names(answer.paints)
    for number, one in enumerate(answer.sets, 1):
        _put_set(number, one, names)
    if answer.bound is not None:
        put_text(_proved(answer.bound, answer.sets[0]))
    if answer.passed.unknown:
        silent = len(answer.passed.unknown)
        say(f"Left out, since what was asked is not known of them (by the {by}): {several(silent, 'paint')}.")
    if answer.left_out:
        say(f"Left out, since nothing was read of them: {several(len(answer.left_out), 'paint')}.")


def _proved(bound: int, first: Chosen) -> str:
    if bound <= first.choice.cells:
        return "No set reaches more than the first: proved."
    most, here = (_part(cells, first.owned_cells) for cells in (bound, first.choice.cells))
    return f"No set can reach more than {most} of what everything owned does; the first reaches {here}."


def _put_set(number: int, one: Chosen, names: Mapping[str, str]) -> None:
    put_text(f"{number}. {', '.join(names[paint] for paint in one.paints)}")
    put_text(f"   Reaches {one.share_of_owned:.0%} of what everything owned does{_HOW}.")
    put_text(f"   It loses, for instance: {_words(one.lost)}.")
    if one.add_next:
        put_text(f"   Add next: {names[one.add_next[0]]}, {_part(one.add_next[1], one.owned_cells)} more.")
    if one.drop_next:
        put_text(
            f"   Missed least: {names[one.drop_next[0]]}, {_part(one.drop_next[1], one.owned_cells)} less."
        )


_HOW = ", mixing two and dulling them with a third"


def _part(cells: int, of: int) -> str:
    return f"{cells / max(of, 1):.1%}"


@app.command("gaps")
def gaps(ctx: typer.Context, which: Which = "all", *, as_json: AsJson = False) -> None:
    """Show what a tin or the collection cannot reach, and which paint would close most of it."""
    from halfpan.studio.choice_document import gaps_to_dict
    from halfpan.studio.see_gaps import see_gaps

    with opened(ctx) as studio:
        seen = see_gaps(studio, which)
    if as_json:
        put_json(gaps_to_dict(seen))
        return
    names = shown_names(seen.paints)
    put_text(f"Reaches {seen.share:.0%} of what {seen.wider} reaches{_HOW}.")
    headings = ["hue", "value", "chroma here", "chroma possible", "for instance"]
    rows = [
        (
            f"{g.from_hue:.0f}°-{g.to_hue:.0f}°",
            g.value,
            f"{g.reached:.0f}",
            f"{g.possible:.0f}",
            _words([g.example]),
        )
        for g in seen.gaps
    ]
    if rows:
        put_table("Falls short", headings, rows, right=headings[2:4])
    for title, found in (
        ("Of your own would bring most", seen.owned_would),
        ("Of the wishes", seen.wished_would),
    ):
        if found:
            put_text(f"{title}: {', '.join(f'{names[p]} ({_part(n, seen.wider_cells)})' for p, n in found)}.")
    if seen.unread:
        say(f"Of {several(len(seen.unread), 'wish', 'wishes')} nothing can be said: no dab was read.")
    for gap in seen.ring_gaps:
        put_text(
            f"No paint from {gap.start:.0f}° to {gap.end:.0f}° of the hue ring, between "
            f"{names[gap.after]} and {names[gap.before]}."
        )


@app.command("greys")
def greys(
    ctx: typer.Context,
    which: Which = "all",
    *,
    count: Annotated[int, typer.Option(help="How many of each.")] = 8,
    as_json: AsJson = False,
) -> None:
    """Pairs that make the cleanest grey and the deepest dark: painted ones first, then foretold ones."""
    from halfpan.studio.choice_document import greys_to_dict
    from halfpan.studio.find_greys import find_greys

    with opened(ctx) as studio:
        found = find_greys(studio, which, count=count)
    if as_json:
        put_json(greys_to_dict(found))
        return
    names = shown_names(found.paints)
    _put_mixes("Mixing opposites: cleanest greys", found.greys, names)
    _put_mixes("Deepest darks", found.darks, names)
    rows = [(names[o.first], names[o.second], f"{o.off:.0f}°") for o in found.opposites]
    note = "They set each other off side by side; how they mix is another question."
    put_table("Opposites to the eye", ["paint", "paint", "off by"], rows, right=["off by"], note=note)


def _put_mixes(title: str, mixes: Sequence[PairMix], names: Mapping[str, str]) -> None:
    rows = [
        (
            f"{names[m.first]} {_parts(m)[0]} : {_parts(m)[1]} {names[m.second]}",
            f"{m.lab[0]:.0f}",
            f"{m.chroma:.1f}",
            "–" if m.within_delta_e00 is None else f"± {m.within_delta_e00:.1f}",
            "painted" if m.painted else "foretold",
        )
        for m in mixes
    ]
    put_table(title, ["mix", "L*", "C*", "ΔE00", "proof"], rows, right=["L*", "C*", "ΔE00"])


def _parts(mix: PairMix) -> tuple[int, int]:
    """Return small whole parts near a share."""
    choices = [
        (a, b) for a in range(1, 9) for b in range(1, 9) if a == 1 or b == 1 or (a, b) in {(3, 2), (2, 3)}
    ]
    return min(choices, key=lambda p: (abs(p[1] / (p[0] + p[1]) - mix.share), sum(p)))
