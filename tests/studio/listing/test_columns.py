from __future__ import annotations

import pytest

from halfpan.errors import BadRequest
from halfpan.files.tables import parse_table
from halfpan.studio.listing.columns import folded, guess_columns


def found(text: str, **corrections: str) -> dict[str, int]:
    return dict(guess_columns(parse_table(text).rows, corrections).found)


@pytest.mark.parametrize(
    ("heading", "fields"),
    [
        ("maker,range,name,codes", ["maker", "range", "name", "codes"]),
        ("Brand;Line;Colour Name;Pigment(s);Size (ml)", ["maker", "range", "name", "codes", "size"]),
        ("COLOR\tCI Name\tLightfastness Rating\tOpacity", ["name", "codes", "lightfastness", "transparency"]),
        ("Name,Pigment 1,Pigment 2,Price", ["name", "codes", None, "price"]),
    ],
)
def test_headings_are_understood_as_people_write_them(heading: str, fields: list[str | None]) -> None:
    assert found(heading) == {field: at for at, field in enumerate(fields) if field}


def test_a_title_above_the_heading_is_stepped_over() -> None:
    columns = guess_columns(parse_table("My paints,,\nmaker,name,codes\nTidewater,Rose,PV19").rows)
    assert columns.first_row == 2
    assert columns.by_heading


def test_without_headings_the_cells_tell() -> None:
    text = "Tidewater,Estuary,Rose,PV19\nTidewater,Estuary,Harbour Blue,PB29\nOld Quarry,Studio,Sand,PY43\n"
    assert found(text) == {"maker": 0, "range": 1, "name": 2, "codes": 3}
    assert found("Rose,PV19\nSand,PY43") == {"name": 0, "codes": 1}


def test_a_wrong_guess_can_be_corrected_by_heading_or_number() -> None:
    text = "name,title,pigment\nTidewater,Rose,PV19"
    assert found(text) == {"name": 0, "codes": 2}
    assert found(text, maker="name", name="2") == {"maker": 0, "name": 1, "codes": 2}
    assert found(text, codes="") == {"name": 0}


def test_a_correction_that_names_nothing_is_refused() -> None:
    with pytest.raises(BadRequest, match="no column “price”"):
        found("name,codes\nRose,PV19", price="price")
    with pytest.raises(BadRequest, match="not something a paint has"):
        found("name,codes\nRose,PV19", smell="codes")


def test_columns_nobody_understood_are_named() -> None:
    assert guess_columns(parse_table("name,codes,Nozzle\nRose,PV19,x").rows).unread == ("Nozzle",)


def test_codes_that_carry_on_in_further_cells_are_all_read() -> None:
    rows = parse_table("name,pigment 1,pigment 2,price\nHarbour Blue,PB29,PBk9,12\nRose,PV19,,9").rows
    columns = guess_columns(rows)
    assert [columns.cell(row, "codes") for row in rows[1:]] == ["PB29, PBk9", "PV19"]
    assert columns.unread == ()


def test_names_are_compared_without_accents_case_and_marks() -> None:
    assert folded("  Terre  d'Ombre_Brûlée ") == "terre d ombre brulee"
