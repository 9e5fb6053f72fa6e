from __future__ import annotations

from datetime import datetime

from hypothesis import given
from hypothesis import strategies as st

from halfpan.collection import stock
from halfpan.files.tables import Row, parse_table
from halfpan.studio.add_paints import add_paints, preview_list
from halfpan.studio.list_paints import list_paints
from halfpan.studio.listing.columns import guess_columns
from halfpan.studio.listing.lines import read_line
from halfpan.studio.studio import Studio
from halfpan.studio.undo import undo

LIST = """maker,range,name,codes,form,size,price
Tidewater,Estuary,Harbour Blue,"PB29, PBk9",half pan,1.5,£4.20
Tidewater,Estuary,Rose,PV 19,tube,8,
Old Quarry,Studio,Bone Black,PBI9,tube,lots,
Old Quarry,Studio,,PY43,tube,8,
Larkspur Mill,Fine,Sand,,tube,8,
"""


def outcomes(studio: Studio, text: str, now: datetime) -> list[str]:
    return [line.outcome for line in add_paints(studio, parse_table(text), now=now).lines]


def test_a_bad_line_never_holds_up_the_good_ones(studio: Studio, now: datetime) -> None:
    assert outcomes(studio, LIST, now) == ["new", "new", "new", "left out", "new"]
    assert [p.name for p in list_paints(studio)] == ["Harbour Blue", "Rose", "Bone Black", "Sand"]


def test_problems_stand_beside_their_line_with_a_proposal(studio: Studio) -> None:
    lines = preview_list(studio, parse_table(LIST)).lines
    problems = {(one.entry.line, p.field): p.proposal for one in lines for p in one.entry.problems}
    assert set(problems) == {(3, "codes"), (4, "codes"), (4, "size"), (5, "name")}
    assert problems[4, "codes"] == "PBk9"


def test_a_doubtful_code_stays_as_written_until_somebody_answers(studio: Studio, now: datetime) -> None:
    add_paints(studio, parse_table(LIST), now=now)
    (black,) = list_paints(studio, "bone")
    assert black.codes == ("PBI9",)
    assert black.label.codes == "PBI9"
    (rose,) = list_paints(studio, "rose")
    assert rose.codes == ("PV19",)
    assert rose.label.codes == "PV 19"


def test_a_preview_keeps_nothing(studio: Studio) -> None:
    preview_list(studio, parse_table(LIST))
    assert list_paints(studio) == []


def test_the_same_list_twice_adds_nothing_twice(studio: Studio, now: datetime) -> None:
    add_paints(studio, parse_table(LIST), now=now)
    before = list_paints(studio)
    assert set(outcomes(studio, LIST, now)) == {"here already", "left out"}
    assert list_paints(studio) == before
    with studio.look() as db:
        assert len(stock.listed(db)) == 4


def test_the_same_paint_twice_in_a_list_is_added_once(studio: Studio, now: datetime) -> None:
    text = "maker,name,codes\nTidewater,Rose,PV19\nTIDEWATER,rosé,pv19\n"
    assert outcomes(studio, text, now) == ["new", "twice in this list"]


def test_a_second_tube_of_another_size_is_the_same_paint(studio: Studio, now: datetime) -> None:
    text = "maker,name,codes,form,size\nTidewater,Rose,PV19,tube,{}\n"
    assert outcomes(studio, text.format(8), now) == ["new"]
    assert outcomes(studio, text.format(15), now) == ["another tube"]
    assert outcomes(studio, text.format(15), now) == ["here already"]
    assert len(list_paints(studio)) == 1
    with studio.look() as db:
        assert [item.size_ml for item in stock.listed(db, "p1")] == [8.0, 15.0]


def test_the_same_name_with_another_recipe_is_another_paint(studio: Studio, now: datetime) -> None:
    assert outcomes(studio, "name,codes\nSap Green,PG7 PY42\nSap Green,PG36 PY110\n", now) == ["new", "new"]


def test_a_paint_that_comes_back_after_undo_keeps_its_number(studio: Studio, now: datetime) -> None:
    add_paints(studio, parse_table(LIST), now=now)
    ids = [one.id for one in list_paints(studio)]
    undo(studio, now=now)
    assert list_paints(studio) == []
    assert outcomes(studio, LIST, now)[0] == "back again"
    assert [one.id for one in list_paints(studio)] == ids
    assert list_paints(studio)[0].form == "half pan"


def test_one_paint_can_be_typed_in(studio: Studio, now: datetime) -> None:
    outcomes(studio, "Tidewater, Estuary, Harbour Blue, PB29, PBk9", now)
    (one,) = list_paints(studio)
    assert (one.maker, one.range, one.name, one.codes) == (
        "Tidewater",
        "Estuary",
        "Harbour Blue",
        ("PB29", "PBk9"),
    )


def test_a_pasted_list_without_columns_is_names_with_codes_behind(studio: Studio, now: datetime) -> None:
    add_paints(
        studio, parse_table("Rose Lake PV19\nHarbour Blue (PB29 PBk9)\nSand\n"), now=now, maker="Tidewater"
    )
    assert [(p.maker, p.name, p.codes) for p in list_paints(studio)] == [
        ("Tidewater", "Rose Lake", ("PV19",)),
        ("Tidewater", "Harbour Blue", ("PB29", "PBk9")),
        ("Tidewater", "Sand", ()),
    ]


def test_lost_accents_are_reported_and_not_mended(studio: Studio) -> None:
    (line,) = preview_list(studio, parse_table("name,codes\nTerre brÃ»lÃ©e,PBr7\n")).lines
    assert line.entry.paint is not None
    assert line.entry.paint.name == "Terre brÃ»lÃ©e"
    assert any("accents" in p.text for p in line.entry.problems)


@given(st.lists(st.text(max_size=12), min_size=1, max_size=6))
def test_no_line_breaks_the_reading_of_a_list(cells: list[str]) -> None:
    rows = [Row(1, ("maker", "range", "name", "codes", "size", "price")), Row(2, tuple(cells))]
    entry = read_line(rows[1], guess_columns(rows))
    if entry.paint is not None:
        assert entry.paint.label.name == cells[2]


def test_a_pasted_line_that_begins_with_a_known_maker_is_the_paint_that_is_here(
    studio: Studio, now: datetime
) -> None:
    add_paints(studio, parse_table("maker,name,codes\nTidewater,Rose,PV19\n"), now=now)
    read = add_paints(studio, parse_table("Tidewater Rose PV19\nDune (Tidewater) PY42"), now=now)
    assert [line.outcome for line in read.lines] == ["here already", "new"]
    assert [paint.name for paint in list_paints(studio) if paint.maker == "Tidewater"] == ["Rose", "Dune"]
    assert "2 lines, the first of them 1" in read.notes[-1]
