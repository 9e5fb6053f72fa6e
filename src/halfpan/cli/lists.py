"""``halfpan lists``: lists for others, a class by codes, children by labels."""

from __future__ import annotations

from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, opened, put_json, put_text, say
from halfpan.cli.table import put_table

app = typer.Typer(help="Lists for others: a class by codes, children by labels.", no_args_is_help=True)


@app.command("class")
def class_(
    ctx: typer.Context,
    codes: Annotated[
        list[str] | None, typer.Argument(metavar="CODE...", help="“PB29”, or “PR101 / PR102” for alternates.")
    ] = None,
    *,
    of: Annotated[str, typer.Option(metavar="TIN", help="The single-pigment paints of a tin, too.")] = "",
    maker: Annotated[list[str] | None, typer.Option(help="Prices of these makers only.")] = None,
    currency: Annotated[str, typer.Option(help="Which prices count, where there are several.")] = "",
    as_json: AsJson = False,
) -> None:
    """Write a class list by code with accepted alternates, and the cheapest basket for one student."""
    from halfpan.studio.class_list import class_list
    from halfpan.studio.label_document import class_list_to_dict

    if not codes and not of:
        raise typer.BadParameter("name some codes, or a tin with --of")
    with opened(ctx) as studio:
        made = class_list(studio, codes or [], of=of, makers=maker or [], currency=currency)
    if as_json:
        put_json(class_list_to_dict(made))
        return
    tubes = dict(made.basket.tubes)
    rows = []
    for number, line in enumerate(made.lines):
        paint = made.paints.get(tubes.get(number, ""))
        price = "" if paint is None or paint.price is None else f"{paint.price:.2f} {paint.currency}"
        answer = "" if paint is None else f"{paint.maker} {paint.name}"
        rows.append(
            (" or ".join(line.line.codes), ", ".join(twin.code for twin in line.twins), answer, price)
        )
    headings = ["code", "same chemistry, your choice", "cheapest known", "price"]
    put_table("Class list", headings, rows, right=["price"])
    put_text(
        f"One basket: {made.basket.price:.2f} {made.basket.currency}, {len(tubes)} of {len(rows)} lines."
    )
    for word, lines in (("no price is known", made.basket.unpriced), ("nothing here", made.basket.unmet)):
        for number in lines:
            say(f"{' or '.join(made.lines[number].line.codes)}: {word}.")


@app.command("children")
def children(
    ctx: typer.Context,
    which: Annotated[str, typer.Argument(metavar="TIN|all", help="A tin, a list, or all.")] = "all",
    *,
    as_json: AsJson = False,
) -> None:
    """List paints by what their labels say about children, word for word."""
    from halfpan.core.paint.cautions import DEFER
    from halfpan.studio.class_list import children_list
    from halfpan.studio.label_document import children_to_dict

    with opened(ctx) as studio:
        said, paints = children_list(studio, which)
    order = ("the label names children or a mark", "the label says nothing", "the label warns")
    if as_json:
        put_json(children_to_dict(said))
        return
    rows = [
        (one.answer, paints[one.paint].name, one.quote, ", ".join(one.substances))
        for answer in order
        for one in said
        if one.answer == answer
    ]
    put_table(
        "By their labels", ["", "paint", "printed", "by its codes, the literature names"], rows, note=DEFER
    )
