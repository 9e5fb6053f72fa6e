"""``halfpan stock``: what lies in the drawer."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

import typer

from halfpan.cli.frame import AsJson, day, now, opened, put_json, put_text, several
from halfpan.cli.table import put_table

app = typer.Typer(help="Stock: what lies in the drawer, and what is left of it.", no_args_is_help=True)

Day = Annotated[date | None, typer.Option(metavar="DAY", parser=day, help="Such as 2026-03-01.")]


@app.command("list")
def listed(
    ctx: typer.Context,
    *,
    paint: Annotated[str, typer.Option(help="Only this paint.")] = "",
    low: Annotated[bool, typer.Option("--low", help="Only what runs out.")] = False,
    unused_since: Annotated[
        date | None, typer.Option(metavar="DAY", parser=day, help="Only what was last used before this day.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """List what lies in the drawer, with what is left and what it cost."""
    from halfpan.studio.stock import list_stock
    from halfpan.studio.stock_document import stock_to_dict

    with opened(ctx) as studio:
        lines = list_stock(studio, paint=paint, low=low, unused_since=unused_since)
    if as_json:
        put_json(stock_to_dict(lines))
        return
    rows = [
        (one.item.id, one.paint.name, one.item.form, _size(one.item.size_ml), _left(one.left),
         one.item.place, _cost(one.cost_per_ml, one.item.currency), "gone hard" if one.item.hard else "")
        for one in lines
    ]  # fmt: skip
    headings = ["item", "paint", "form", "size", "left", "place", "cost per ml", ""]
    put_table("", headings, rows, right=["item", "size", "cost per ml"], note=several(len(rows), "item"))


def _size(size: float | None) -> str:
    return "" if size is None else f"{size:g} ml"


def _left(left: tuple[float, float] | None) -> str:
    if left is None:
        return ""
    low, high = left
    return f"{low:.0%}" if low == high else f"{low:.0%} to {high:.0%}"


def _cost(cost: float | None, currency: str) -> str:
    return "" if cost is None else f"{cost:.2f} {currency}".strip()


@app.command("add")
def add(
    ctx: typer.Context,
    paint: Annotated[str, typer.Argument(metavar="PAINT")],
    *,
    form: Annotated[str, typer.Option(help="tube, pan, half pan, stick, sample dot, own-made")] = "tube",
    size: Annotated[float | None, typer.Option(help="In ml.")] = None,
    price: Annotated[float | None, typer.Option()] = None,
    currency: Annotated[str, typer.Option()] = "",
    batch: Annotated[str, typer.Option()] = "",
    bought: Day = None,
    place: Annotated[str, typer.Option(help="Drawer, box, shelf.")] = "",
) -> None:
    """Add a tube, pan or stick of a paint."""
    from halfpan.collection.stock import Item
    from halfpan.studio.stock import add_item

    item = Item(form=form, size_ml=size, price=price, currency=currency, batch=batch, bought=bought,
                place=place)  # fmt: skip
    with opened(ctx) as studio:
        line = add_item(studio, paint, item, now=now())
    put_text(f"Item {line.item.id}: {line.item.form} of {line.paint.name}.")


@app.command("note")
def note(
    ctx: typer.Context,
    item: Annotated[int, typer.Argument(metavar="ITEM", help="Its number in `halfpan stock list`.")],
    *,
    left: Annotated[str, typer.Option(help="full, half, low, empty, or a percentage.")] = "",
    weight: Annotated[float | None, typer.Option(help="Weight now, in g.")] = None,
    empty: Annotated[float | None, typer.Option(help="Weight of the empty tube, in g.")] = None,
    place: Annotated[str | None, typer.Option()] = None,
    hard: Annotated[
        bool | None, typer.Option("--hard/--not-hard", help="It has gone hard in its tube.")
    ] = None,
    used: Day = None,
    gone: Annotated[bool, typer.Option("--gone", help="It is used up or given away.")] = False,
) -> None:
    """Note what is left of an item, or what became of it."""
    from halfpan.studio.stock import note_item

    values: dict[str, Any] = {
        "amount_left": _share(left), "weight_g": weight, "empty_g": empty, "place": place, "hard": hard,
        "last_used": used, "gone": now() if gone else None,
    }  # fmt: skip
    with opened(ctx) as studio:
        given = {name: value for name, value in values.items() if value is not None}
        line = note_item(studio, item, now=now(), **given)
    put_text(f"Item {item}, {line.paint.name}: {_left(line.left) or 'unknown how much is left'}.")


def _share(text: str) -> float | None:
    if not text:
        return None
    from halfpan.studio.listing.cells import amount_left

    value, problem = amount_left(text)
    if problem is not None:
        raise typer.BadParameter(problem.text, param_hint="--left")
    return value
