"""Lists as people keep them: csv of any make, workbooks, pasted text; and lists written for others.

All cells are text, exactly as they stand there. What had to be guessed (encoding, separator) is said in a
note, never decided in silence.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from halfpan.errors import UnreadableTable
from halfpan.files.whole import read_whole

MOST_BYTES = 50_000_000
MOST_ROWS = 200_000
SEPARATORS = "\t;,|"


@dataclass(frozen=True, slots=True)
class Row:
    """One row and the line it stands on in the file, counted from 1."""

    line: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A list as it was read, empty rows left out, and what had to be guessed."""

    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()


def read_table(path: Path) -> Table:
    """Read a csv file or a workbook.

    Raises
    ------
    UnreadableTable
        When the file is missing, too large, or neither text nor a workbook.
    """
    return table_of(read_whole(path, MOST_BYTES, UnreadableTable, smaller="split it"), path.name)


def table_of(content: bytes, name: str = "the list") -> Table:
    """Return the table in the bytes of a csv file or a workbook."""
    if content[:4] == b"PK\x03\x04":
        from halfpan.files.workbook import read_workbook

        return read_workbook(content, name)
    if content[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise UnreadableTable(f"{name} is an old binary workbook; save it as .xlsx or .csv and try again.")
    text, notes = decoded(content, name)
    return parse_table(text, name, notes)


def parse_table(text: str, name: str = "the list", notes: Sequence[str] = ()) -> Table:
    """Return the table in a text; the separator is the one that cuts most lines alike."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    quoted = any(line.startswith('"') for line in text.split("\n"))
    separator = likely_separator(text) or ("," if quoted else None)
    if separator is None:
        rows = [Row(n, (line.strip(),)) for n, line in enumerate(text.split("\n"), 1) if line.strip()]
        return _limited(rows, [*notes], name)
    reader = csv.reader(io.StringIO(text), delimiter=separator, skipinitialspace=True)
    rows = []
    try:
        while (cells := next(reader, None)) is not None:
            if any(cell.strip() for cell in cells):
                rows.append(Row(reader.line_num, tuple(cell.strip() for cell in cells)))
    except csv.Error as trouble:
        raise UnreadableTable(f"{name}, line {reader.line_num}: {trouble}.") from trouble
    return _limited(rows, [*notes], name)


def _limited(rows: list[Row], notes: list[str], name: str) -> Table:
    if len(rows) > MOST_ROWS:
        raise UnreadableTable(f"{name} has {len(rows)} rows; the most that is taken at once is {MOST_ROWS}.")
    return Table(tuple(rows), tuple(notes))


def decoded(content: bytes, name: str = "the list") -> tuple[str, list[str]]:
    """Return the text of some bytes. Lines that are not UTF-8 are read as Western European, and named."""
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if content.startswith(mark):
            return content.decode(encoding, errors="replace"), []
    if (guess := _wide_without_mark(content)) is not None:
        return content.decode(guess, errors="replace"), [f"{name} was read as {guess.upper()}."]
    if b"\x00" in content:
        raise UnreadableTable(f"{name} is not a text list; save it as .csv or .xlsx and try again.")
    lines, odd = [], []
    for number, line in enumerate(content.split(b"\n"), 1):
        try:
            lines.append(line.decode("utf-8"))
        except UnicodeDecodeError:
            odd.append(number)
            lines.append(_western(line))
    notes = [f"{_lines_named(odd)} not UTF-8; read as Western European (Windows). Look at the accents."]
    return "\n".join(lines), notes if odd else []


def _western(line: bytes) -> str:
    try:
        return line.decode("cp1252")
    except UnicodeDecodeError:
        return line.decode("latin-1")


def _wide_without_mark(content: bytes) -> str | None:
    start = content[:2000]
    if len(start) < 4 or b"\x00" not in start:
        return None
    even, odd = start[0::2].count(0), start[1::2].count(0)
    if odd > len(start) // 4 and even == 0:
        return "utf-16-le"
    return "utf-16-be" if even > len(start) // 4 and odd == 0 else None


def _lines_named(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f"Line {numbers[0]} is"
    shown = ", ".join(map(str, numbers[:10]))
    return f"Lines {shown}{' and more' if len(numbers) > 10 else ''} are"


def likely_separator(text: str) -> str | None:
    """Return the separator that cuts most lines into the same number of cells, or none."""
    lines = [line for line in text.split("\n") if line.strip()][:200]
    best, best_score = None, 0.0
    for separator in SEPARATORS:
        counts = [len(cells) for cells in csv.reader(lines, delimiter=separator)]
        wide = [count for count in counts if count > 1]
        if not wide:
            continue
        usual = max(set(wide), key=wide.count)
        score = sum(count == usual for count in counts) / len(counts) + 0.01 * min(usual, 20)
        if score > best_score and wide.count(usual) * 2 >= len(counts):
            best, best_score = separator, score
    return best


def harmless(value: Any) -> Any:
    """Return a cell that no spreadsheet program takes for a formula (a leading quote marks it as text)."""
    if isinstance(value, str) and value.lstrip()[:1] in {"=", "+", "-", "@"}:
        return "'" + value
    if isinstance(value, str) and value[:1] in {"\t", "\r", "\n"}:
        return "'" + value
    return value


def csv_text(header: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    """Return a csv document with formula-like cells made harmless."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([["" if cell is None else harmless(cell) for cell in row] for row in rows])
    return out.getvalue()
