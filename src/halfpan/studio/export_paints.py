"""The collection as a csv file or a workbook that spreadsheet programs cannot be attacked through."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from halfpan.collection import paints, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.files.tables import csv_text
from halfpan.files.whole import write_whole
from halfpan.studio.studio import Studio

HEADER = (
    "id", "maker", "range", "name", "codes", "other_names", "form", "size", "price", "currency", "series",
    "batch", "bought", "amount_left", "place", "favourite", "tags", "notes", "owned",
    "name as printed", "codes as printed", "lightfastness", "transparency", "granulation", "staining",
    "health", "scales as printed",
    "full strength L", "full strength a", "full strength b", "within dE00", "value range", "contrast ratio",
    "granulation read",
)  # fmt: skip


def export_paints(studio: Studio, path: Path) -> int:
    """Write all paints, wished ones included, with what was read of them; return how many.

    Raises
    ------
    BadRequest
        When the file's name ends neither in .csv nor in .xlsx.
    """
    with studio.look() as db:
        everything = paints.listed(db)
        seen = swatches.counting(db)
    lines = [list(_cells(one, seen.get(one.id))) for one in everything]
    if path.suffix.lower() == ".csv":
        content = b"\xef\xbb\xbf" + csv_text(HEADER, lines).encode()
    elif path.suffix.lower() == ".xlsx":
        from halfpan.files.workbook import workbook_bytes

        content = workbook_bytes(HEADER, lines, "Paints")
    else:
        raise BadRequest(f"{path.name}: the list is written as .csv or as .xlsx; end its name so.")
    write_whole(path, content)
    return len(lines)


def _cells(paint: Paint, seen: KeptSwatch | None) -> Iterator[Any]:
    yield from (paint.id, paint.maker, paint.range, paint.name, ", ".join(paint.codes))
    yield from ("; ".join(paint.other_names), paint.form, paint.size_ml, paint.price, paint.currency)
    yield from (paint.series, paint.batch, paint.bought.isoformat() if paint.bought else None)
    yield from (None if paint.amount_left is None else f"{paint.amount_left:.0%}", paint.place)
    yield from (_yes(paint.favourite), "; ".join(paint.tags), paint.notes, _yes(paint.owned))
    label = paint.label
    yield from (label.name, label.codes, label.lightfastness, label.transparency, label.granulation)
    yield from (label.staining, label.health, label.scales)
    swatch = seen.swatch if seen else None
    lab = swatch.masstone if swatch else None
    yield from (None, None, None) if lab is None else (round(value, 2) for value in lab)
    for measure in ("within_delta_e00", "value_range", "contrast_ratio", "granulation"):
        value = getattr(swatch, measure) if swatch else None
        yield None if value is None else round(value, 4)


def _yes(value: bool) -> str:
    return "yes" if value else "no"
