"""``halfpan pigments``: what is published about pigments, and which of your paints contain them."""

from __future__ import annotations

from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, opened, put_json, put_text
from halfpan.cli.table import put_table

app = typer.Typer(help="Pigments: what is published about them.", no_args_is_help=True)


@app.command("list")
def listed(
    ctx: typer.Context,
    *,
    owned: Annotated[bool, typer.Option("--owned", help="Only those in your paints.")] = False,
    as_json: AsJson = False,
) -> None:
    """List the pigments of the index, and codes of yours that it does not know."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.show_pigment import list_pigments

    with opened(ctx) as studio:
        found = list_pigments(studio, owned=owned)
    if as_json:
        rows = [{"code": c, "paints": n, "known": answer_to_document(p)} for c, p, n in found]
        put_json({"pigments": rows})
        return
    rows_told = [
        (
            code,
            known.name,
            known.group,
            known.astm.text,
            known.light.text,
            known.transparency.text,
            count or "",
        )
        if known
        else (code, "unknown to this index", "", "", "", "", count)
        for code, known, count in found
    ]
    headings = ["code", "name", "group", "ASTM word", "in light", "transparency", "paints"]
    put_table("", headings, rows_told, right=["paints"])


@app.command("show")
def show(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(metavar="CODE", help="Such as PB29 or PB15:3.")],
    *,
    as_json: AsJson = False,
) -> None:
    """Show what is published about one pigment, how sure each fact is, and your paints that contain it."""
    from halfpan.studio.answer_document import answer_to_document
    from halfpan.studio.show_pigment import show_pigment

    with opened(ctx) as studio:
        shown = show_pigment(studio, code)
    if as_json:
        document = answer_to_document(shown)
        put_json({**document, "paints": [one.id for one in shown.paints]})
        return
    known = shown.pigment
    if known is None:
        put_text(f"{shown.code} is not in this index. Nothing is said about it: unknown.")
    else:
        told = (
            ("origin", known.origin),
            ("in light, ASTM word for watercolour", known.astm),
            ("what that word stands for", shown.astm_means),
            ("in light, other tests", known.other_light),
            ("in light, summed up", known.light),
            ("transparency", known.transparency),
            ("granulation", known.granulation),
            ("staining", known.staining),
            *((f"holds {held.name}", held.caution) for held in shown.substances),
        )
        numbers, sure = ", ".join(known.constitution), known.constitution_certainty
        facts = [("constitution number", numbers, sure, known.sources)]
        facts += [(what, fact.text, fact.certainty, fact.source) for what, fact in told if fact is not None]
        put_table(f"{known.code}  {known.name}  ({known.chemistry})", ["", "", "how sure", "source"], facts)
        if known.note:
            put_text(known.note)
    rows = [(one.id, one.name, one.maker, " ".join(one.codes)) for one in shown.paints]
    if rows:
        put_table("Your paints that contain it", ["number", "name", "maker", "codes"], rows)
    else:
        put_text("None of your paints contains it.")
