"""Which column of a list is what: from its heading where there is one, from its cells where there is none.

A guess is shown and can be corrected; a column nobody understood is named, not dropped in silence.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from halfpan.core.paint.codes import parse_codes
from halfpan.errors import BadRequest
from halfpan.files.tables import Row

# What people write above a column, folded to small letters; a field's own name always counts.
HEADINGS: Mapping[str, tuple[str, ...]] = {
    "maker": ("brand", "make", "manufacturer", "company", "producer", "marque", "hersteller", "marke"),
    "range": ("line", "grade", "product line", "product range", "quality", "gamme", "sortiment"),
    "name": ("colour", "color", "paint", "colour name", "color name", "paint name", "title", "farbe", "nom"),
    "codes": (
        "code", "pigment", "pigments", "pigment code", "pigment codes", "ci", "c i", "ci name", "ci names",
        "colour index", "color index", "colour index name", "pigment s", "pigment index", "pigmente",
    ),
    "other_names": ("other name", "also called", "alias", "aliases", "old name"),
    "form": ("type", "format", "kind", "tube or pan", "packaging"),
    "size": ("ml", "size ml", "volume", "size_ml", "volume ml", "quantity ml", "content", "contents"),
    "price": ("cost", "paid", "price paid", "prix", "preis"),
    "currency": (),
    "series": ("price group", "price series"),
    "batch": ("lot", "lot number", "batch number"),
    "bought": ("date", "date bought", "purchased", "purchase date", "bought on", "date of purchase"),
    "amount_left": ("left", "amount", "amount left", "remaining", "level", "how full"),
    "place": ("location", "where", "drawer", "stored", "storage", "box", "shelf"),
    "favourite": ("favorite", "fav", "star"),
    "tags": ("tag", "labels", "keywords", "groups"),
    "notes": ("note", "comment", "comments", "remarks", "remark"),
    "owned": ("own", "have", "have it", "got", "in stock", "status"),
    "lightfastness": ("lightfast", "light fastness", "lf", "permanence", "lightfastness rating", "astm"),
    "transparency": ("opacity", "transparent", "transparency opacity", "trans", "hiding"),
    "granulation": ("granulating", "gran", "granulates"),
    "staining": ("stain", "stains", "lifting"),
    "health": ("health label", "hazard", "hazards", "warning", "warnings", "toxicity", "caution"),
}  # fmt: skip
FIELDS = tuple(HEADINGS)


@dataclass(frozen=True, slots=True)
class Columns:
    """``found`` gives the column (from 0) of each field; ``first_row`` tells where the paints begin."""

    found: Mapping[str, int]
    headings: tuple[str, ...]
    unread: tuple[str, ...]
    by_heading: bool
    first_row: int

    def cell(self, row: Row, field: str) -> str:
        """Return the cell of a field in a row, empty where the list has none."""
        column = self.found.get(field)
        if column is None or column >= len(row.cells):
            return ""
        if field == "codes":
            return ", ".join(self._code_cells(row.cells, column))
        return row.cells[column]

    def _code_cells(self, cells: Sequence[str], column: int) -> Iterator[str]:
        """Give the codes cell and those right of it that carry on: lists often give each code its own."""
        taken = set(self.found.values())
        yield cells[column]
        for at in range(column + 1, len(cells)):
            if at in taken or not any(code.canonical for code in parse_codes(cells[at])):
                return
            yield cells[at]


@lru_cache(maxsize=50_000)
def folded(text: str) -> str:
    """Return a text as it is compared: small letters, no accents, one space between words."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    return re.sub(r"[^\w]+|_", " ", plain.casefold()).strip()


_MEANINGS = {
    **{folded(heading): field for field, words in HEADINGS.items() for heading in words},
    **{folded(field): field for field in HEADINGS},
}


def guess_columns(rows: Sequence[Row], corrections: Mapping[str, str] | None = None) -> Columns:
    """Return the columns of a list, its heading looked for in the first ten rows.

    Parameters
    ----------
    rows : sequence of Row
    corrections : mapping, optional
        Field to heading or to column number from 1, or to ``""`` for "not in this list".

    Raises
    ------
    BadRequest
        When a correction names a field or a column that is not there.
    """
    heading = next((n for n, row in enumerate(rows[:10]) if _looks_like_heading(row)), None)
    if heading is None:
        columns = Columns(_from_cells(rows), (), (), by_heading=False, first_row=0)
    else:
        headings = rows[heading].cells
        found: dict[str, int] = {}
        for column, text in enumerate(headings):
            field = _meaning(text)
            if field is not None and field not in found:
                found[field] = column
        columns = Columns(found, headings, _unread(headings, found), by_heading=True, first_row=heading + 1)
    return _corrected(columns, corrections or {}, max((len(row.cells) for row in rows), default=0))


def _meaning(text: str) -> str | None:
    plain = re.sub(r"(?<=[a-z]) ?[1-9]$", "", folded(text))
    return _MEANINGS.get(plain) or _MEANINGS.get(re.sub(r"\s+(?:in\s+)?(?:ml|gbp|eur|usd)$", "", plain))


def _unread(headings: Sequence[str], found: Mapping[str, int]) -> tuple[str, ...]:
    return tuple(text for text in headings if text and _meaning(text) not in found)


def _looks_like_heading(row: Row) -> bool:
    meanings = [_meaning(cell) for cell in row.cells if cell]
    known = {meaning for meaning in meanings if meaning}
    return bool(known & {"name", "codes"}) and len(known) * 2 >= len(meanings)


def _from_cells(rows: Sequence[Row]) -> dict[str, int]:
    """Guess without headings: codes look like codes, names differ most, maker and range come before."""
    width = max((len(row.cells) for row in rows), default=0)
    if width <= 1:
        return {"name": 0} if width else {}
    some = rows[:200]
    shares = [_share_of_codes(some, column) for column in range(width)]
    codes = max(range(width), key=lambda column: shares[column])
    found = {"codes": codes} if shares[codes] > 0.3 else {}
    texts = [c for c in range(width) if c not in found.values() and _mostly_words(some, c)]
    if not texts:
        return found
    before = [c for c in texts if c < codes] if found and codes > min(texts) else texts
    found["name"] = before[min(len(before), 3) - 1]
    earlier = [column for column in before if column < found["name"]]
    return found | dict(zip(("maker", "range"), earlier, strict=False))


def _share_of_codes(rows: Sequence[Row], column: int) -> float:
    cells = [row.cells[column] for row in rows if column < len(row.cells) and row.cells[column]]
    good = [cell for cell in cells if any(code.canonical for code in parse_codes(cell))]
    return len(good) / len(cells) if cells else 0.0


def _mostly_words(rows: Sequence[Row], column: int) -> bool:
    cells = [row.cells[column] for row in rows if column < len(row.cells) and row.cells[column]]
    return bool(cells) and sum(bool(re.search(r"[^\W\d]{2}", cell)) for cell in cells) * 2 > len(cells)


def _corrected(columns: Columns, corrections: Mapping[str, str], width: int) -> Columns:
    found = dict(columns.found)
    for field, where in corrections.items():
        if field not in HEADINGS:
            raise BadRequest(f"“{field}” is not something a paint has; it may be one of {', '.join(FIELDS)}.")
        found.pop(field, None)
        if where:
            column = _column_named(where, columns.headings, width)
            found = {name: at for name, at in found.items() if at != column} | {field: column}
    used = set(found.values())
    unread = tuple(
        text for at, text in enumerate(columns.headings) if text in columns.unread and at not in used
    )
    return Columns(found, columns.headings, unread, columns.by_heading, columns.first_row)


def _column_named(where: str, headings: Sequence[str], width: int) -> int:
    plain = [folded(text) for text in headings]
    if folded(where) in plain:
        return plain.index(folded(where))
    if where.isdigit() and 1 <= int(where) <= width:
        return int(where) - 1
    raise BadRequest(
        f"There is no column “{where}” in the list; it has {width}: {', '.join(headings) or 'no headings'}."
    )
