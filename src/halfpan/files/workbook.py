"""Workbooks (.xlsx) as tables of text, and tables as workbooks.

Formulas stay text and are never computed; merged cells repeat what they show; only the first sheet that
holds anything is read, and the others are named.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Sequence
from datetime import date, datetime, time
from typing import Any

from halfpan.errors import UnreadableTable
from halfpan.files.tables import MOST_ROWS, Row, Table, harmless

MOST_UNPACKED = 400_000_000
MOST_COLUMNS = 200


def read_workbook(content: bytes, name: str) -> Table:
    """Return the table on the first sheet of a workbook that holds one."""
    import openpyxl

    _check_unpacked_size(content, name)
    try:
        book = openpyxl.load_workbook(io.BytesIO(content), data_only=False)
    except Exception as trouble:  # the reader raises whatever its parts raise
        raise UnreadableTable(f"{name} is not a workbook that can be read ({trouble}).") from trouble
    filled = [sheet for sheet in book.worksheets if any(_rows_of(sheet))]
    if not filled:
        return Table(())
    notes = []
    if len(filled) > 1:
        others = ", ".join(f"“{sheet.title}”" for sheet in filled[1:])
        notes.append(f"Read from the sheet “{filled[0].title}”; left alone: {others}.")
    rows = tuple(_rows_of(filled[0]))
    if any(cell.startswith("=") for row in rows for cell in row.cells):
        notes.append("Formulas are taken as text, not worked out.")
    return Table(rows, tuple(notes))


def _check_unpacked_size(content: bytes, name: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            unpacked = sum(part.file_size for part in packed.infolist())
    except zipfile.BadZipFile as trouble:
        raise UnreadableTable(f"{name} is damaged: it cannot be unpacked.") from trouble
    if unpacked > MOST_UNPACKED:
        raise UnreadableTable(f"{name} unpacks to more than {MOST_UNPACKED // 1_000_000} MB; split it.")


def _rows_of(sheet: Any) -> Iterable[Row]:
    merged = _merged_values(sheet)
    bottom, right = min(sheet.max_row, MOST_ROWS), min(sheet.max_column, MOST_COLUMNS)
    for number, cells in enumerate(sheet.iter_rows(max_row=bottom, max_col=right, values_only=True), 1):
        texts = tuple(_as_text(merged.get((number, column), value)) for column, value in enumerate(cells, 1))
        if any(texts):
            yield Row(number, texts)


def _merged_values(sheet: Any) -> dict[tuple[int, int], Any]:
    values = {}
    for area in sheet.merged_cells.ranges:
        shown = sheet.cell(area.min_row, area.min_col).value
        for row in range(area.min_row, min(area.max_row, MOST_ROWS) + 1):
            for column in range(area.min_col, min(area.max_col, MOST_COLUMNS) + 1):
                values[row, column] = shown
    return values


def _as_text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, datetime) and value.time() == time():
        value = value.date()
    if isinstance(value, date | datetime):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip()


def workbook_bytes(header: Sequence[str], rows: Iterable[Sequence[Any]], title: str) -> bytes:
    """Return a workbook with one sheet; texts that look like formulas are kept as texts."""
    import openpyxl

    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = title[:31]
    sheet.append(list(header))
    for cell in sheet[1]:
        cell.font = openpyxl.styles.Font(bold=True)
    for row in rows:
        sheet.append([harmless(cell) for cell in row])
    sheet.freeze_panes = "A2"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
