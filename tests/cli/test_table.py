"""What a list looks like in windows of several widths."""

from __future__ import annotations

import pytest
from rich.cells import cell_len

from halfpan.cli.table import put_table

HEADINGS = ["box", "paint", "in light", ""]
ROWS = [
    (1, "Alizarin Crimson", "stronger in colour", None),
    (2, "Ultramarine", None, "locked"),
    (3, "青い海の色 Müller", None, ""),
]


def put(capsys, monkeypatch, width, rows=ROWS, headings=HEADINGS, **more):
    monkeypatch.setenv("COLUMNS", str(width))
    put_table("Window", headings, rows, **more)
    return capsys.readouterr().out


@pytest.mark.parametrize("width", [24, 30, 40, 60, 80, 160])
def test_no_word_is_broken_however_narrow_the_window(capsys, monkeypatch, width):
    shown = put(capsys, monkeypatch, width, note="a note")
    words = shown.split()
    for word in (
        "Alizarin",
        "Crimson",
        "Ultramarine",
        "stronger",
        "colour",
        "locked",
        "Window",
        "note",
        "青い海の色",
    ):
        assert word in words
    assert max(map(cell_len, shown.splitlines())) <= width


def test_a_wide_window_shows_columns_and_a_narrow_one_an_entry_a_row(capsys, monkeypatch):
    wide = put(capsys, monkeypatch, 80)
    assert "–" in wide
    assert wide.count("paint") == 1
    narrow = put(capsys, monkeypatch, 24)
    assert narrow.count("paint") == 3
    assert narrow.count("in light") == 1  # what says nothing is left out


def test_a_list_with_nothing_in_it_says_so(capsys, monkeypatch):
    assert put(capsys, monkeypatch, 80, rows=[]) == "Window: none.\n"


def test_a_column_without_heading_and_cells_is_left_out(capsys, monkeypatch):
    shown = put(capsys, monkeypatch, 80, rows=[(1, "Rose", "", None)])
    assert len(next(line for line in shown.splitlines() if "─" in line).strip()) < 30
