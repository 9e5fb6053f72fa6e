"""CGATS.17 / ISO 28178: the text tables that instruments write.

Written against the standard's structure and the slips that real files make: counts that are missing or
wrong, tabs or blanks, any line end, decimal commas, several tables in one file, many names for one band.
"""

from __future__ import annotations

import re
import shlex

from halfpan.errors import UnreadableTable
from halfpan.files.instrument import (
    Measured,
    MeasuredTable,
    Part,
    colour_of,
    condition_of,
    file_scale,
)

_NAMES = ("SAMPLE_NAME", "SAMPLEID_NAME", "NAME", "SAMPLE_ID", "SAMPLEID")
_WHITES = {"D50", ""}
_CONDITIONS = ("FILTER", "MEASUREMENT_CONDITION", "MEASUREMENT_SOURCE", "FILTER_NAME")


def read_cgats_text(text: str, name: str) -> MeasuredTable:
    """Read every table of a CGATS file that holds colours.

    A count of fields or sets that does not agree is reported among the problems; it never stops the reading.

    Raises
    ------
    UnreadableTable
        When no table holds a usable colour, or the file states another illuminant or observer for its Lab.
    """
    lines = re.split(r"\r\n|\r|\n", text)
    rows: list[Measured] = []
    problems: list[str] = []
    stated: dict[str, str] = {}
    fields: list[str] = []
    at = 0
    while at < len(lines):
        words = _words(lines[at])
        at += 1
        if not words:
            continue
        key = words[0].upper()
        if key == "BEGIN_DATA_FORMAT":
            found, at = _until(lines, at, "END_DATA_FORMAT")
            fields = [field.upper() for _, line in found for field in line]
            _count(stated, "NUMBER_OF_FIELDS", len(fields), problems)
        elif key == "BEGIN_DATA":
            found, at = _until(lines, at, "END_DATA")
            _count(stated, "NUMBER_OF_SETS", len(found), problems)
            table, trouble = _table(found, fields, stated, name)
            rows += table
            problems += trouble
        else:
            stated[key] = " ".join(words[1:])
    if not rows:
        raise UnreadableTable(
            f"{name} holds no usable colour: Lab or reflectance 400-700 nm is needed."
            + (f" {problems[0]}" if problems else "")
        )
    return MeasuredTable(tuple(rows), tuple(problems))


def _words(line: str) -> list[str]:
    """Split a line at blanks and tabs, keeping quoted texts whole; what follows # is a remark."""
    if '"' not in line:
        return line.split("#", 1)[0].split()
    splitter = shlex.shlex(line, posix=True)
    splitter.whitespace_split, splitter.commenters, splitter.quotes, splitter.escape = True, "#", '"', ""
    try:
        return list(splitter)
    except ValueError:
        return line.replace('"', " ").split()


def _until(lines: list[str], at: int, end: str) -> tuple[list[tuple[int, list[str]]], int]:
    """Return the worded lines up to an end word, with their line numbers, and where to go on."""
    found = []
    while at < len(lines):
        words = _words(lines[at])
        at += 1
        if words and words[0].upper() == end:
            break
        if words:
            found.append((at, words))
    return found, at


def _count(stated: dict[str, str], key: str, seen: int, problems: list[str]) -> None:
    said = stated.pop(key, "").strip()
    if said and said != str(seen):
        problems.append(f"The file says {key} {said}, and has {seen}; what is there was read.")


def _table(
    found: list[tuple[int, list[str]]], fields: list[str], stated: dict[str, str], name: str
) -> tuple[list[Measured], list[str]]:
    if not any(field in {"LAB_L", "L"} or "NM" in field or "SPECTRAL" in field for field in fields):
        return [], []
    _refuse_other_light(stated, fields, name)
    condition = condition_of(" ".join(stated.get(key, "") for key in _CONDITIONS))
    columns = [re.sub(r"^(LAB)_", "lab_", field).lower() for field in fields]
    pairs = []
    problems: list[str] = []
    for line, words in found:
        if len(words) != len(fields):
            problems.append(f"Line {line}: {len(words)} values where {len(fields)} are due.")
            continue
        pairs.append((line, dict(zip(columns, words, strict=True))))
    scale = file_scale([row for _, row in pairs])
    rows: list[Measured] = []
    for line, row in pairs:
        colour = colour_of(row, f"Line {line}", scale=scale)
        if isinstance(colour, str):
            problems.append(colour)
            continue
        label = next((row[n.lower()] for n in _NAMES if row.get(n.lower())), "")
        parts: tuple[Part, ...] = ((label, None),) if label else ()
        rows.append(Measured(label, parts, *colour, condition, line))
    return rows, problems


def _refuse_other_light(stated: dict[str, str], fields: list[str], name: str) -> None:
    """Refuse Lab under another light or observer; reflectance is independent of both."""
    if any("NM" in field or "SPECTRAL" in field for field in fields):
        return
    light = (
        stated.get("ILLUMINATION_NAME", stated.get("ILLUMINANT", ""))
        .upper()
        .replace("ILLUMINANT", "")
        .strip()
    )
    observer = stated.get("OBSERVER_ANGLE", stated.get("OBSERVER", ""))
    if light not in _WHITES or (observer.strip() and not re.match(r"2(\D|$)", observer.strip())):
        raise UnreadableTable(
            f"{name} gives Lab under {light or 'D50'}, {observer or '2'} degrees; Halfpan needs "
            "D50, 2 degrees, or reflectance."
        )
