"""Readings of an instrument, from a csv, a CGATS.17 or a CxF3 file, as rows of name, amounts and colour.

A file is told by its content, not its ending. What cannot be used is listed line by line, never guessed.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.spectra import BANDS, reflectance_to_lab
from halfpan.errors import UnreadableTable
from halfpan.files.upright import set_upright, stands_on_its_side, without_unit
from halfpan.files.whole import read_whole

Array = NDArray[np.float64]
Part = tuple[str, float | None]

MOST_BYTES = 50_000_000
_BAND = re.compile(r"^(?:r|nm|spectral|spectral_nm)_?(\d{3})$")
_PAINT = re.compile(r"^paint(?:_([a-z]))?$")


@dataclass(frozen=True, slots=True)
class Measured:
    """One measured patch.

    Attributes
    ----------
    name : what the file calls it ("" when it does not)
    parts : the paints in it and their amounts, in the file's order; amounts None where not given
    lab : D50, 2 degree
    reflectance : 31 bands, 400-700 nm by 10, or None where only Lab was given
    condition : "M0" to "M3" (ISO 13655) when stated, else ""
    line : where in the file it stands
    """

    name: str
    parts: tuple[Part, ...]
    lab: tuple[float, float, float]
    reflectance: tuple[float, ...] | None = None
    condition: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class MeasuredTable:
    """All usable rows of a file, and a sentence for each that is not."""

    rows: tuple[Measured, ...]
    problems: tuple[str, ...] = ()


def read_measured(path: Path) -> MeasuredTable:
    """Read an instrument's file.

    Raises
    ------
    UnreadableTable
        When the file cannot be opened or understood as a whole, or mixes measuring conditions.
    """
    return measured_from(read_whole(path, MOST_BYTES, UnreadableTable, smaller="split it"), path.name)


def measured_from(data: bytes, name: str) -> MeasuredTable:
    """Read an instrument's file that is already in memory."""
    start = data.lstrip(b"\xef\xbb\xbf \t\r\n")[:200]
    if start.startswith(b"<") or data.startswith((b"\xff\xfe<", b"\xfe\xff\x00<")):
        from halfpan.files.cxf import read_cxf_bytes

        table = read_cxf_bytes(data, name)
    else:
        text = as_text(data, name)
        if is_cgats(text):
            from halfpan.files.cgats import read_cgats_text

            table = read_cgats_text(text, name)
        else:
            table = _from_csv(text, name)
    stated = sorted({row.condition for row in table.rows if row.condition})
    if len(stated) > 1:
        raise UnreadableTable(
            f"{name} mixes measuring conditions {' and '.join(stated)}, which cannot be compared; "
            "keep each in a file of its own."
        )
    return table


def as_text(data: bytes, name: str) -> str:
    """Return text of UTF-8, UTF-16 with its mark, or the Western single-byte code."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", "replace")
    if b"\x00" in data[:4096]:
        raise UnreadableTable(f"{name} is not a table of readings: give csv, CGATS or CxF.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def is_cgats(text: str) -> bool:
    """Say whether a text holds CGATS.17 tables."""
    return "BEGIN_DATA_FORMAT" in text and "BEGIN_DATA" in text.replace("BEGIN_DATA_FORMAT", "")


def number(text: str) -> float | None:
    """Return a number with a decimal point or a decimal comma, None where there is none."""
    text = text.strip().replace("\u2212", "-")
    if re.fullmatch(r"[+-]?\d+,\d+(?:[eE][+-]?\d+)?", text):
        text = text.replace(",", ".")
    try:
        value = float(text)
    except ValueError:
        return None
    return value if np.isfinite(value) else None


def colour_of(
    row: Mapping[str, str], where: str, *, scale: float | None = None
) -> tuple[tuple[float, float, float], tuple[float, ...] | None] | str:
    """Return Lab and reflectance of one row of columns in small letters, or why it has none.

    Parameters
    ----------
    row : column name to text; ``l``/``lab_l``, ``a``, ``b``; ``r_400``, ``nm400``, ``spectral_nm_400``
    where : how to call the row in a sentence
    scale : what reflectance 1 is written as; found from the values where it is not given
    """
    bands = {int(m.group(1)): row[k] for k in row if (m := _BAND.match(k)) and row[k].strip()}
    if bands:
        return _from_bands(bands, where, scale)
    values = [number(row.get(c, "") or row.get(f"lab_{c}", "")) for c in ("l", "a", "b")]
    if any(value is None for value in values):
        return f"{where}: no colour (L, a, b or reflectance 400-700 nm) is given."
    light, a, b = (float(v) for v in values if v is not None)
    if not -1 <= light <= 130 or max(abs(a), abs(b)) > 200:
        return f"{where}: L {light:g}, a {a:g}, b {b:g} is no colour of paint."
    return (light, a, b), None


def _from_bands(
    bands: Mapping[int, str], where: str, scale: float | None
) -> tuple[tuple[float, float, float], tuple[float, ...]] | str:
    wavelengths = sorted(bands)
    missing = [int(w) for w in BANDS if int(w) not in bands]
    step = int(np.diff(wavelengths).max()) if len(wavelengths) > 1 else 999
    if wavelengths[0] > 400 or wavelengths[-1] < 700 or (missing and step > 20):
        return f"{where}: reflectance must cover 400-700 nm at least every 20 nm."
    values = [number(bands[w]) for w in wavelengths]
    if any(value is None for value in values):
        return f"{where}: a reflectance is missing or not a number."
    reflectance = np.array(values, dtype=np.float64) / (scale or 1.0)
    if reflectance.min() < -0.02 or reflectance.max() > (2.0 if scale else 1.6):
        return f"{where}: reflectance {reflectance.min():g} to {reflectance.max():g} is not between 0 and 1."
    return on_bands(np.array(wavelengths, float), reflectance)


def on_bands(wavelengths: Array, reflectance: Array) -> tuple[tuple[float, float, float], tuple[float, ...]]:
    """Return Lab, and reflectance on the 31 bands (linear between neighbours)."""
    on = np.interp(BANDS, wavelengths, reflectance)
    lab = reflectance_to_lab(np.maximum(on, 0.0))
    return (float(lab[0]), float(lab[1]), float(lab[2])), tuple(float(v) for v in on)


def reflectance_scale(values: Sequence[float]) -> float:
    """Return 100 for reflectance written in per cent, 1 for fractions, judged from a whole file."""
    return 100.0 if len(values) and float(np.max(values)) > 1.6 else 1.0


def file_scale(rows: Sequence[Mapping[str, str]]) -> float:
    """Return what reflectance 1 is written as in a file, from its highest value."""
    seen = [v for row in rows for k in row if _BAND.match(k) and (v := number(row[k])) is not None]
    return reflectance_scale(seen)


def _from_csv(text: str, name: str) -> MeasuredTable:
    """Read the columns of ``readings add``: paint(s), amount(s), then Lab or reflectance."""
    lines = text.splitlines()
    if not lines or not lines[0].strip():
        raise UnreadableTable(f"{name} is empty.")
    mark = max(",;\t", key=lines[0].count)
    reader = csv.reader(io.StringIO(text), delimiter=mark)
    head = [without_unit(cell.strip().lower()) for cell in next(reader)]
    if stands_on_its_side(head):
        return _turned(head, list(reader), name)
    twice = sorted({h for h in head if h and head.count(h) > 1})
    if twice:
        raise UnreadableTable(f"{name} has more than one column {twice[0]}.")
    if not ({"l", "a", "b"} <= set(head) or any(_BAND.match(h) for h in head)):
        raise UnreadableTable(
            f"{name} has no columns L, a, b and none R_400 to R_700 (found: {', '.join(head)[:80]})."
        )
    rows: list[tuple[int, dict[str, str]]] = []
    problems: list[str] = []
    for cells in reader:
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(head):
            problems.append(f"Line {reader.line_num}: {len(cells)} cells where the head has {len(head)}.")
            continue
        rows.append((reader.line_num, dict(zip(head, cells, strict=True))))
    scale = file_scale([row for _, row in rows])
    measured: list[Measured] = []
    for line, row in rows:
        found = _csv_row(row, line, scale)
        if isinstance(found, str):
            problems.append(found)
        else:
            measured.append(found)
    if not measured:
        raise UnreadableTable(f"{name} has no usable row. {problems[0] if problems else ''}".strip())
    return MeasuredTable(tuple(measured), tuple(problems))


def _turned(head: Sequence[str], lines: Sequence[Sequence[str]], name: str) -> MeasuredTable:
    """Read a table with a line for each wavelength by setting it upright first."""
    try:
        columns, rows = set_upright(head, [line for line in lines if line])
    except ValueError as trouble:
        raise UnreadableTable(f"{name}: a wavelength is not a number; give nm from 400 to 700.") from trouble
    text = "\n".join(",".join(f'"{cell}"' for cell in row) for row in [columns, *rows])
    return _from_csv(text, name)


def _csv_row(row: Mapping[str, str], line: int, scale: float) -> Measured | str:
    parts: list[Part] = []
    for column in row:
        match = _PAINT.match(column)
        paint = row[column].strip() if match else ""
        if not match or not paint:
            continue
        amount_text = row.get(f"amount_{match.group(1)}" if match.group(1) else "amount", "").strip()
        amount = number(amount_text)
        if amount_text and (amount is None or amount < 0):
            return f"Line {line}: the amount {amount_text!r} of {paint} is not a number from 0 up."
        parts.append((paint, amount))
    colour = colour_of(row, f"Line {line}", scale=scale)
    if isinstance(colour, str):
        return colour
    name = (
        row.get("name", "").strip() or row.get("sample_name", "").strip() or " + ".join(p for p, _ in parts)
    )
    return Measured(name, tuple(parts), *colour, condition_of(row.get("condition", "")), line)


def condition_of(text: str) -> str:
    """Return M0 to M3 when a text states one of them."""
    match = re.search(r"\bM\s?([0-3])\b", text, re.IGNORECASE)
    return f"M{match.group(1)}" if match else ""
