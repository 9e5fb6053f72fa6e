"""The hostile list of the pigment codes, brought in as a file of a painter's: see tests/core/paint."""

from __future__ import annotations

import csv
import io
from datetime import datetime
from pathlib import Path

import pytest

from halfpan.files.tables import table_of
from halfpan.studio.add_paints import add_paints, preview_list
from halfpan.studio.check_labels import check_labels
from halfpan.studio.studio import Studio

LIST = Path(__file__).parents[1] / "core" / "paint" / "hostile_list.csv"
FIELDS = ("maker", "range", "name", "codes")


def rows() -> list[dict[str, str]]:
    """Every line under a name of its own, so that no two are taken for the same paint."""
    with LIST.open(encoding="utf-8", newline="") as file:
        return [row | {"range": f"{row['range']} {at}"} for at, row in enumerate(csv.DictReader(file))]


def as_file(lines: list[dict[str, str]], encoding: str, separator: str = ",") -> bytes:
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, FIELDS, extrasaction="ignore", delimiter=separator)
    writer.writeheader()
    writer.writerows(lines)
    return text.getvalue().encode(encoding, errors="replace")


@pytest.mark.parametrize(
    ("encoding", "separator"), [("utf-8", ","), ("utf-8-sig", ";"), ("utf-16", "\t"), ("utf-16-le", ",")]
)
def test_no_line_of_the_hostile_list_is_refused_whatever_the_encoding(
    studio: Studio, encoding: str, separator: str
) -> None:
    lines = rows()
    understood = preview_list(studio, table_of(as_file(lines, encoding, separator), "list.csv"))
    assert [one.outcome for one in understood.lines] == ["new"] * len(lines)
    printed = [one.entry.paint.label.codes for one in understood.lines if one.entry.paint]
    assert [p.split() for p in printed] == [row["codes"].split() for row in lines]


def test_an_older_encoding_of_the_lines_it_can_hold_is_understood_too(studio: Studio) -> None:
    lines = [row for row in rows() if row["codes"].isascii() and row["name"].isascii()]
    lines.append({"maker": "Old Quarry", "range": "", "name": "Bleu Outremer foncé", "codes": "PB29"})
    understood = preview_list(studio, table_of(as_file(lines, "cp1252"), "list.csv"))
    assert understood.lines[-1].entry.paint is not None
    assert understood.lines[-1].entry.paint.name == "Bleu Outremer foncé"


def test_every_fault_is_told_by_the_check_of_a_studio_and_the_print_is_kept(
    studio: Studio, now: datetime
) -> None:
    lines = rows()
    add_paints(studio, table_of(as_file(lines, "utf-8"), "list.csv"), now=now)
    checked = check_labels(studio)
    assert len(checked) == len(lines)
    told = {one.paint.range: one for one in checked}
    silent = [row["codes"] for row in lines if row["fault"] and not told[row["range"]].checked.remarks]
    asked = [row["codes"] for row in lines if not row["fault"] and told[row["range"]].checked.asks]
    assert (silent, asked) == ([], [])
    for row in lines:
        assert told[row["range"]].paint.label.codes.split() == row["codes"].split()


def test_the_same_hostile_list_twice_adds_nothing_twice(studio: Studio, now: datetime) -> None:
    table = table_of(as_file(rows(), "utf-8"), "list.csv")
    add_paints(studio, table, now=now)
    again = add_paints(studio, table, now=now)
    assert {one.outcome for one in again.lines} == {"here already"}
