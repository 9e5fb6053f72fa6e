"""One line of a list as a paint, with everything about it that a person should look at."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import Any

from halfpan.core.paint.checking import check_label
from halfpan.core.paint.paint import Label, Paint
from halfpan.files.tables import Row
from halfpan.studio.listing import cells
from halfpan.studio.listing.cells import Problem
from halfpan.studio.listing.columns import Columns

_CODES_AT_END = re.compile(
    r"[\s,;(\[–—-]+((?:[PNBASVDM](?:Br|Bk|[YORVBGWM])[\s-]?\d[\w:.\s,;+&/()\]-]*))$", re.IGNORECASE
)
_MOJIBAKE = re.compile(r"[ÃÂ][\x80-\xbf\u0152-\u2122]|â€|\ufffd")


@dataclass(frozen=True, slots=True)
class Entry:
    """A line read: the paint it speaks of (none if it cannot be one) and its problems."""

    line: int
    text: str
    paint: Paint | None
    problems: tuple[Problem, ...]


def read_line(row: Row, columns: Columns, *, maker: str = "", range_name: str = "") -> Entry:
    """Return the paint of one line; ``maker`` and ``range_name`` stand in where the list has none."""
    text = " · ".join(cell for cell in row.cells if cell)
    name, printed_codes = columns.cell(row, "name"), columns.cell(row, "codes")
    if "codes" not in columns.found and len(row.cells) == 1:
        name, printed_codes = _name_and_codes(name)
    problems = [Problem("name", _odd_text(cell), None) for cell in row.cells if _odd_text(cell)]
    checked = check_label(name, printed_codes)
    problems += [
        Problem("codes", remark.text, remark.proposal) for remark in checked.remarks if printed_codes
    ]
    if not name:
        problems.append(Problem("name", "there is no name in this line; it is left out"))
        return Entry(row.line, text, None, tuple(problems))
    values, more = _values(row, columns)
    label = Label(
        name=name,
        codes=printed_codes,
        **{part: columns.cell(row, part) for part in _LABEL if part in columns.found},
    )
    paint = Paint(
        id="",
        maker=columns.cell(row, "maker") or maker,
        range=columns.cell(row, "range") or range_name,
        name=name,
        codes=tuple(code.canonical or code.as_written for code in checked.read),
        label=label,
        **values,
    )
    return Entry(row.line, text, paint, (*problems, *more))


_LABEL = ("lightfastness", "transparency", "granulation", "staining", "health")


def _name_and_codes(text: str) -> tuple[str, str]:
    found = _CODES_AT_END.search(text)
    return (text[: found.start()].strip(), found[1].strip(" )]")) if found and found.start() else (text, "")


def _odd_text(cell: str) -> str:
    if _MOJIBAKE.search(cell):
        return f"“{cell}” looks as if its accents were lost on the way"
    if any(unicodedata.category(c) == "Cf" for c in cell):
        return f"“{cell}” holds a character that cannot be seen"
    return ""


def _values(row: Row, columns: Columns) -> tuple[dict[str, Any], list[Problem]]:
    """Read the cells that are more than words; a problem leaves its value unknown."""
    values: dict[str, Any] = {}
    problems: list[Problem | None] = []
    for field, value_name, read in _READERS:
        if cell := columns.cell(row, field):
            value, problem = read(cell)
            problems.append(problem)
            if value is not None:
                values[value_name] = value
    if cell := columns.cell(row, "price"):
        values["price"], values["currency"], problem = cells.price(cell)
        problems.append(problem)
    if currency := columns.cell(row, "currency"):
        values["currency"] = cells.CURRENCIES.get(currency, currency.upper())
    for field in ("series", "batch", "place", "notes"):
        values[field] = columns.cell(row, field)
    for field in ("tags", "other_names"):
        values[field] = tuple(
            part.strip() for part in re.split(r"[;,|]", columns.cell(row, field)) if part.strip()
        )
    return values, [problem for problem in problems if problem]


_READERS = (
    ("size", "size_ml", cells.size_ml),
    ("bought", "bought", cells.day),
    ("amount_left", "amount_left", cells.amount_left),
    ("form", "form", cells.form),
    ("favourite", "favourite", lambda cell: cells.yes_or_no("favourite", cell)),
    ("owned", "owned", lambda cell: cells.yes_or_no("owned", cell)),
)
