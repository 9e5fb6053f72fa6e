from __future__ import annotations

import contextlib
import io
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.errors import UnreadableTable
from halfpan.files.tables import (
    csv_text,
    decoded,
    harmless,
    likely_separator,
    parse_table,
    read_table,
    table_of,
)
from halfpan.files.workbook import workbook_bytes


def cells(content: bytes) -> list[tuple[str, ...]]:
    return [row.cells for row in table_of(content).rows]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_accents_survive_every_usual_encoding(encoding: str) -> None:
    assert cells("maker,name\nLarkspur Mill,Vert émeraude\n".encode(encoding)) == [
        ("maker", "name"),
        ("Larkspur Mill", "Vert émeraude"),
    ]


def test_lines_in_another_encoding_are_named_and_do_not_spoil_the_others() -> None:
    text, notes = decoded("Terre brûlée\n".encode() + "Grün\n".encode("cp1252"))
    assert text == "Terre brûlée\nGrün\n"
    assert len(notes) == 1
    assert notes[0].startswith("Line 2 is not UTF-8")


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_the_separator_is_found(separator: str) -> None:
    lines = ["maker{0}name{0}codes", 'Tidewater{0}Harbour{0}"PB29, PBk9; PW6"', "Tidewater{0}Sand{0}PY43"]
    assert likely_separator("\n".join(lines).format(separator)) == separator


def test_a_cell_may_hold_a_line_break_and_quotes() -> None:
    table = parse_table('name,notes\nRose,"granulates,\nsays the ""label"""\nSand,\n')
    assert [row.cells for row in table.rows][1] == ("Rose", 'granulates,\nsays the "label"')


def test_a_list_without_separators_is_one_column() -> None:
    assert [row.cells for row in parse_table("Rose Lake PV19\n\nSand PY43\n").rows] == [
        ("Rose Lake PV19",),
        ("Sand PY43",),
    ]


def test_merged_cells_repeat_what_they_show_and_formulas_stay_text(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    for row in (["maker", "name", "codes"], ["Tidewater", "Rose", "PV19"], [None, "Sand", "=1+1"]):
        sheet.append(row)
    sheet.merge_cells("A2:A3")
    book.create_sheet("Old").append(["maker"])
    book.save(tmp_path / "list.xlsx")
    table = read_table(tmp_path / "list.xlsx")
    assert [row.cells for row in table.rows][1:] == [
        ("Tidewater", "Rose", "PV19"),
        ("Tidewater", "Sand", "=1+1"),
    ]
    assert any("“Old”" in note for note in table.notes)
    assert any("Formulas" in note for note in table.notes)


def test_damaged_binary_and_overgrown_files_are_refused_in_one_sentence(tmp_path: Path) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as other:
        other.writestr("a.txt", "not a workbook")
    for content in (
        b"PK\x03\x04 and then nothing",
        packed.getvalue(),
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(100),
        b"\x89PNG\r\n\x1a\n\x00\x00\x01\x00\x99",
    ):
        with pytest.raises(UnreadableTable) as refused:
            table_of(content, "list.xlsx")
        assert "list.xlsx" in str(refused.value)
        assert "\n" not in str(refused.value)
    with pytest.raises(UnreadableTable, match="cannot be opened"):
        read_table(tmp_path / "absent.csv")


# The first characters by which spreadsheet programs take a cell for a formula: OWASP, "CSV Injection".
@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", " =", "\n@"])
def test_no_text_that_goes_out_can_be_taken_for_a_formula(start: str) -> None:
    assert harmless(start + "cmd|' /C calc'!A0").startswith("'")
    text = csv_text(["name"], [[start + "HYPERLINK(1)"]])
    assert table_of(text.encode()).rows[1].cells[0].startswith("'")


def test_numbers_go_out_as_numbers() -> None:
    assert harmless(-3.5) == -3.5
    content = workbook_bytes(["name", "b"], [["=1+1", -3.5]], "Paints")
    sheet = openpyxl.load_workbook(io.BytesIO(content)).active
    assert sheet["A2"].value == "'=1+1"
    assert sheet["A2"].data_type == "s"
    assert sheet["B2"].value == -3.5


@given(st.binary(max_size=200))
def test_any_bytes_are_a_table_or_a_refusal(content: bytes) -> None:
    with contextlib.suppress(UnreadableTable):
        assert all(any(cell for cell in row.cells) for row in table_of(content).rows)


@given(
    st.lists(
        st.lists(st.text(st.characters(codec="utf-8", exclude_categories=["C"])), min_size=2, max_size=4)
    )
)
def test_a_written_list_reads_back_but_for_blanks_and_the_mark_of_harmlessness(rows: list[list[str]]) -> None:
    kept = [[cell.strip() for cell in row] for row in rows if any(cell.strip() for cell in row)]
    text = csv_text(["one", "two"], kept)
    read = parse_table(text)
    if likely_separator(text.replace("\r\n", "\n")) == ",":
        assert [list(row.cells) for row in read.rows[1:]] == [[str(harmless(c)) for c in row] for row in kept]
