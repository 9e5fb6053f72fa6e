"""Verbs of ``halfpan paints`` about likeness: do I own it, what is the same, what could replace it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from halfpan.cli.frame import AsJson, opened, put_json, put_text, say, several
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.core.paint.paint import Paint

app = typer.Typer()

PaintName = Annotated[str, typer.Argument(metavar="PAINT", help="Id, or a name only one answers to.")]


@app.command("own")
def own(
    ctx: typer.Context,
    what: Annotated[str, typer.Argument(metavar="CODES|NAME", help="“PB60”, or a name.")],
    *,
    as_json: AsJson = False,
) -> None:
    """Do I own this? By codes, by pigment under other names, by look, by name."""
    from halfpan.core.arranging.likeness import in_words
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.own_paint import own_paint

    with opened(ctx) as studio:
        found = own_paint(studio, what)
    owned = found.owned
    if as_json:
        put_json({"asked": what, **answer_to_document(owned)})
        return
    named = shown_names(found.paints)
    rows = [
        *(("same codes", named[one], "") for one in owned.same_codes),
        *(("mixed, holds it", named[one], "") for one in owned.among_others),
        *(("the pigment, elsewhere", named[one], "") for one in owned.pigment_elsewhere),
        *(("looks the same", named[one.second], in_words(one, found.repeat)) for one in owned.look),
        *(("same name", named[one], "") for one in owned.name),
        *(("maybe: a near name", named[one], "") for one in owned.maybe),
    ]
    if not rows:
        put_text(f"Nothing here answers to “{what}”.")
        return
    put_table("", ["how", "paint", ""], rows)


@app.command("duplicates")
def duplicates(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="PAINT", help="Only what is like this one.")] = "",
    *,
    as_json: AsJson = False,
) -> None:
    """Find duplicates, look-alikes, cousins (same codes, another look) and namesakes."""
    from halfpan.core.arranging.likeness import in_words
    from halfpan.studio.find_alike import find_alike, find_alike_to
    from halfpan.studio.likeness_document import alike_to_dict

    with opened(ctx) as studio:
        alike = find_alike_to(studio, paint) if paint else find_alike(studio)
    if as_json:
        put_json(alike_to_dict(alike))
        return
    say(alike.repeat.in_words())
    if alike.unread:
        say(f"{alike.unread} paints were not read yet and could not be looked at.")
    named = shown_names(alike.paints)
    pairs = [(o.kind, named[o.first], named[o.second], in_words(o, alike.repeat)) for o in alike.likenesses]
    groups = [(kin.kind, ", ".join(named[one] for one in kin.paints), kin.sentence) for kin in alike.kin]
    if pairs:
        put_table("Pairs", ["kind", "paint", "and", ""], pairs)
    if groups:
        put_table("Groups", ["kind", "paints", ""], groups)
    if not pairs and not groups:
        put_text("Nothing is alike.")


@app.command("substitute")
def substitute(
    ctx: typer.Context,
    paint: PaintName,
    *,
    transparent: Annotated[bool | None, typer.Option("--transparent/--opaque")] = None,
    granulating: Annotated[bool | None, typer.Option("--granulating/--smooth")] = None,
    lasting: Annotated[bool | None, typer.Option("--lasting", help="Holds in light.")] = None,
    single: Annotated[bool | None, typer.Option("--single/--mixed", help="Single-pigment, or not.")] = None,
    without: Annotated[
        list[str] | None, typer.Option(metavar="SUBSTANCE|CODE", help="Such as cadmium, cobalt, PR108.")
    ] = None,
    maker: Annotated[str, typer.Option()] = "",
    by: Annotated[str, typer.Option(help="The witness to ask: label, literature or proof.")] = "",
    count: Annotated[int, typer.Option(min=1, help="How many to show.")] = 6,
    as_json: AsJson = False,
) -> None:
    """Rank what could replace this paint, out of those you own, and say what would be lost."""
    from halfpan.core.arranging.substitutes import Wanted
    from halfpan.core.paint.witness import WITNESSES
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.substitute_paint import substitute_paint

    witness = next((one for one in WITNESSES if one == by), None)
    if by and witness is None:
        raise typer.BadParameter("label, literature or proof", param_hint="--by")
    wanted = Wanted(transparent, granulating, lasting, single, tuple(without or ()), maker, witness)
    with opened(ctx) as studio:
        replaced = substitute_paint(studio, paint, wanted, most=count)
    if as_json:
        put_json(answer_to_document(replaced.substitutes))
        return
    named = shown_names(replaced.paints)
    rows = [
        (named[o.paint], *(None if d is None else f"{d:.1f}" for d in o.differences),
         "good" if o.good else "", "; ".join(o.losses))
        for o in replaced.substitutes.found
    ]  # fmt: skip
    if rows:
        headings = ["instead", "ΔE masstone", "mid", "tint", "", "what changes"]
        put_table(f"Instead of {replaced.paint.name}", headings, rows, right=headings[1:4])
    put_text(replaced.substitutes.sentence)
    if replaced.substitutes.unknown:
        silent = several(len(replaced.substitutes.unknown), "paint")
        put_text(f"Left out, since nobody says what was asked: {silent}.")


@app.command("identify")
def identify(ctx: typer.Context, paint: PaintName, *, as_json: AsJson = False) -> None:
    """Say what this may be: pigments ranked by how known paints of them look here."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.name_paint import name_paint

    with opened(ctx) as studio:
        found = name_paint(studio, paint)
    if as_json:
        put_json(answer_to_document(found.named))
        return
    named = shown_names(found.paints)
    rows = [
        (g.code, f"{g.distance:.1f}", named[g.nearest], g.known, f"{g.share:.0%}")
        for g in found.named.guesses
    ]
    if rows:
        headings = ["pigment", "ΔE", "nearest paint", "paints known", "belief"]
        put_table(found.paint.name, headings, rows, right=["ΔE", "paints known", "belief"])
        put_text(f"None of these: {found.named.none_of_these:.0%}.")
    put_text(found.named.sentence)
    if found.named.unseen:
        put_text(f"Never seen here, so not to be told: {', '.join(found.named.unseen[:12])}.")


def shown_names(paints: dict[str, Paint]) -> dict[str, str]:
    """Return what each paint (by id) is called in an answer; the id stands beside a name that is shared."""
    from halfpan.studio.paint_names import names_of

    short = names_of(paints.values())
    return {key: name if name != key else f"{paints[key].name} ({key})" for key, name in short.items()}
