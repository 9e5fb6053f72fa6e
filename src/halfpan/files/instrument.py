"""Measured colours from a file: rows of paints and amounts with L, a, b or a reflectance.

The columns are ``paint, amount`` or ``paint_a, amount_a, paint_b, amount_b, ...``, then ``L, a, b`` (D50,
2 degree) or ``R_400 ... R_700``. A row that cannot be used is named with its line; the others are read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from halfpan.core.colour.spectra import BANDS, reflectance_to_lab
from halfpan.core.paint.reading import Lab
from halfpan.errors import UnreadableTable
from halfpan.files.tables import Row, Table, read_table

_PAINT = re.compile(r"paint(?:_?([a-z]|\d+))?")
_AMOUNT = re.compile(r"(?:amount|parts)(?:_?([a-z]|\d+))?(?:_?(?:ml|g|drops?))?")
_BAND = re.compile(r"(?:r|nm|spectral_nm|refl|reflectance)?_?(\d{3})(?:_?nm)?")
_LAB = {
    "l": "L",
    "l*": "L",
    "lab_l": "L",
    "a": "a",
    "a*": "a",
    "lab_a": "a",
    "b": "b",
    "b*": "b",
    "lab_b": "b",
}
_OTHER = {"zone": "zone", "condition": "condition", "within_delta_e00": "within_delta_e00", "name": "name"}


@dataclass(frozen=True, slots=True)
class MeasuredRow:
    """One measured colour. ``parts`` are (paint as written, amount or none); ``within`` a stated radius."""

    line: int
    parts: tuple[tuple[str, float | None], ...]
    lab: Lab
    reflectance: tuple[float, ...] | None = None
    zone: str = ""
    condition: str = ""
    within: float | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """The usable rows of a file, and a sentence for each that is not."""

    rows: tuple[MeasuredRow, ...]
    problems: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where everything stands."""

    paints: Mapping[str, int]
    amounts: Mapping[str, int]
    lab: Mapping[str, int]
    bands: Mapping[int, int]
    other: Mapping[str, int]


def read_measured(path: Path) -> Measured:
    """Read a file of measured colours.

    Raises
    ------
    UnreadableTable
        When it is no table, or has neither L, a, b nor reflectances of 400 to 700 nm by 10.
    """
    table = read_table(path)
    if not table.rows:
        raise UnreadableTable(f"{path.name} is empty.")
    table = _upright(table)
    columns = _columns(table.rows[0], path.name)
    rows: list[MeasuredRow] = []
    problems: list[str] = []
    percent = _in_percent(table.rows[1:], columns)
    for row in table.rows[1:]:
        try:
            rows.append(_measured(row, columns, percent=percent))
        except ValueError as trouble:
            problems.append(f"{path.name}, line {row.line}: {trouble}")
    notes = (f"Reflectances in {path.name} were read as per cent.",) if percent else ()
    return Measured(tuple(rows), tuple(problems), (*table.notes, *notes))


def _upright(table: Table) -> Table:
    """Turn a spectrum that is written downwards (wavelength, value) into one row."""
    first = [cell.casefold() for cell in table.rows[0].cells]
    if len(first) != 2 or not first[0].startswith(("wavelength", "nm")):
        return table
    heading = Row(1, tuple(f"R_{row.cells[0].split('.')[0]}" for row in table.rows[1:]))
    return Table((heading, Row(2, tuple(row.cells[1] for row in table.rows[1:]))), table.notes)


def _columns(heading: Row, name: str) -> _Columns:
    paints: dict[str, int] = {}
    amounts: dict[str, int] = {}
    lab: dict[str, int] = {}
    bands: dict[int, int] = {}
    other: dict[str, int] = {}
    for at, cell in enumerate(heading.cells):
        plain = re.sub(r"\s+", "_", cell.strip().casefold())
        if plain in _LAB:
            lab[_LAB[plain]] = at
        elif found := _PAINT.fullmatch(plain):
            paints[found[1] or ""] = at
        elif found := _AMOUNT.fullmatch(plain):
            amounts[found[1] or ""] = at
        elif found := _BAND.fullmatch(plain):
            bands[int(found[1])] = at
        elif plain in _OTHER:
            other[_OTHER[plain]] = at
    wanted = [int(band) for band in BANDS]
    if len(lab) < 3 and not set(wanted) <= set(bands):
        raise UnreadableTable(
            f"{name} has neither columns L, a, b nor reflectances R_400, R_410 ... R_700; "
            f"its columns are {', '.join(heading.cells[:8])}{' ...' if len(heading.cells) > 8 else ''}."
        )
    full = {band: bands[band] for band in wanted} if set(wanted) <= set(bands) else {}
    return _Columns(paints, amounts, lab if len(lab) == 3 else {}, full, other)


def _in_percent(rows: Sequence[Row], columns: _Columns) -> bool:
    """Say whether reflectances run to 100; a file is in one unit throughout."""
    values = [row.cells[at] for row in rows for at in columns.bands.values() if at < len(row.cells)]
    numbers = [float(text) for text in values if re.fullmatch(r"\d+(?:\.\d+)?", text)]
    return bool(numbers) and float(np.median(numbers)) > 2.0


def _measured(row: Row, columns: _Columns, *, percent: bool) -> MeasuredRow:
    spectrum = _spectrum(row, columns, percent=percent)
    if columns.lab:
        L, a, b = (_number(row, columns.lab[name], name) for name in ("L", "a", "b"))
        if not (0 <= L <= 105 and max(abs(a), abs(b)) <= 160):
            raise ValueError(f"L, a, b of {L:g}, {a:g}, {b:g} is no colour of a surface")
        lab: Lab = (L, a, b)
    else:
        L, a, b = (float(value) for value in reflectance_to_lab(np.array(spectrum)))
        lab = (L, a, b)
    within = _cell(row, columns.other.get("within_delta_e00"))
    return MeasuredRow(
        line=row.line,
        parts=_parts(row, columns),
        lab=lab,
        reflectance=spectrum,
        zone=_cell(row, columns.other.get("zone")),
        condition=_cell(row, columns.other.get("condition")),
        within=_number(row, columns.other["within_delta_e00"], "within_delta_e00") if within else None,
    )


def _spectrum(row: Row, columns: _Columns, *, percent: bool) -> tuple[float, ...] | None:
    if not columns.bands:
        return None
    scale = 0.01 if percent else 1.0
    values = tuple(scale * _number(row, at, f"R_{band}") for band, at in columns.bands.items())
    if min(values) < -0.01 or max(values) > 1.5:
        raise ValueError("a reflectance lies outside 0 to 1")
    return values


def _parts(row: Row, columns: _Columns) -> tuple[tuple[str, float | None], ...]:
    parts: list[tuple[str, float | None]] = []
    for key, at in columns.paints.items():
        paint = _cell(row, at)
        if not paint:
            continue
        amount_at = columns.amounts.get(key)
        amount = (
            _number(row, amount_at, "amount") if _cell(row, amount_at) and amount_at is not None else None
        )
        if amount is not None and amount < 0:
            raise ValueError(f"the amount of {paint} is below nought")
        if amount != 0:
            parts.append((paint, amount))
    if len(parts) > 1 and any(amount is None for _, amount in parts):
        raise ValueError("a mix needs the amount of each of its paints")
    return tuple(parts)


def _cell(row: Row, at: int | None) -> str:
    return row.cells[at] if at is not None and at < len(row.cells) else ""


def _number(row: Row, at: int, what: str) -> float:
    text = _cell(row, at)
    try:
        value = float(text.replace(",", ".") if text.count(",") == 1 and "." not in text else text)
    except ValueError:
        raise ValueError(f"{what} is “{text}”, not a number" if text else f"{what} is missing") from None
    if not np.isfinite(value):
        raise ValueError(f"{what} is {text}, not a number")
    return value
