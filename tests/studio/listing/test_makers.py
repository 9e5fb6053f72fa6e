"""A maker beside the name is taken as the maker only when it is known already."""

from __future__ import annotations

import pytest

from halfpan.files.tables import parse_table
from halfpan.studio.listing.columns import guess_columns
from halfpan.studio.listing.lines import read_line
from halfpan.studio.listing.makers import with_known_makers


def entries(text):
    table = parse_table(text)
    columns = guess_columns(table.rows)
    return [read_line(row, columns) for row in table.rows]


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Larkspur Mill Burnt Sienna PBr7", "Burnt Sienna"),
        ("LARKSPUR MILL – Burnt Sienna (light), PBr7", "Burnt Sienna (light)"),
        ("Burnt Sienna (Larkspur Mill) PBr7", "Burnt Sienna"),
        ("Larkspur  mill: Burnt Sienna", "Burnt Sienna"),
    ],
)
def test_a_known_maker_before_or_after_the_name_is_the_maker(line, name):
    read, note = with_known_makers(entries(line), ["Larkspur Mill"])
    assert (read[0].paint.maker, read[0].paint.name) == ("Larkspur Mill", name)
    assert "line 1" in note


@pytest.mark.parametrize("line", ["French Ultramarine PB29", "Millstone Grey", "Larkspur Millet Yellow PY3"])
def test_words_that_are_no_known_maker_stay_in_the_name(line):
    read, note = with_known_makers(entries(line), ["Larkspur Mill", "Mill"])
    assert read[0].paint.maker == ""
    assert note == ""


def test_the_label_keeps_what_was_printed():
    read, _ = with_known_makers(entries("Larkspur Mill Burnt Sienna PBr7"), ["Larkspur Mill"])
    assert read[0].paint.label.name == "Larkspur Mill Burnt Sienna"


def test_the_longest_maker_that_fits_is_taken():
    read, _ = with_known_makers(entries("Old Quarry Deep Umber PBr7"), ["Old Quarry", "Old Quarry Deep"])
    assert (read[0].paint.maker, read[0].paint.name) == ("Old Quarry Deep", "Umber")


def test_a_name_that_is_only_a_maker_stays_as_it_is():
    read, note = with_known_makers(entries("Larkspur Mill"), ["Larkspur Mill"])
    assert (read[0].paint.name, note) == ("Larkspur Mill", "")
