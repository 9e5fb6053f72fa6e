from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from halfpan.collection import readings
from halfpan.errors import UnknownPaint, UnreadableTable
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.add_readings import INSTRUMENT_WITHIN, add_readings
from halfpan.studio.list_paints import list_paints
from halfpan.studio.studio import Studio
from halfpan.studio.undo import undo

LADDER = "paint,amount,L,a,b\nRose,1,70,30,0\nRose,2,60,40,1\nSand,1,80,5,30\n"
MIXES = "paint_a,amount_a,paint_b,amount_b,L,a,b\nRose,1,Sand,3,65,20,15\n"


@pytest.fixture
def ladder(tmp_path: Path) -> Path:
    (tmp_path / "ladder.csv").write_text(LADDER)
    return tmp_path / "ladder.csv"


def test_readings_count_at_once_and_new_paints_are_named(studio: Studio, ladder: Path, now: datetime) -> None:
    added = add_readings(studio, ladder, now=now)
    assert [one.name for one in added.new_paints] == ["Rose", "Sand"]
    with studio.look() as db:
        kept = readings.of_ids(db, added.kept)
    assert [(k.amounts, k.reading.lab) for k in kept] == [
        ((("p1", 1.0),), (70.0, 30.0, 0.0)),
        ((("p1", 2.0),), (60.0, 40.0, 1.0)),
        ((("p2", 1.0),), (80.0, 5.0, 30.0)),
    ]
    said = {(k.reading.state, k.reading.tier, k.reading.within_delta_e00) for k in kept}
    assert said == {("accepted", "instrument", INSTRUMENT_WITHIN)}


def test_the_same_file_twice_adds_nothing_twice(studio: Studio, ladder: Path, now: datetime) -> None:
    add_readings(studio, ladder, now=now)
    again = add_readings(studio, ladder, now=now)
    assert (again.kept, again.known, again.new_paints) == ((), 3, ())


def test_mixes_use_the_paints_that_are_there(
    studio: Studio, ladder: Path, tmp_path: Path, now: datetime
) -> None:
    add_paints(studio, parse_table("maker,name,codes\nTidewater,Rose,PV19\nTidewater,Sand,PY43\n"), now=now)
    (tmp_path / "mixes.csv").write_text(MIXES)
    (tmp_path / "paper.csv").write_text("L,a,b\n94,0.5,2\n")
    added = add_readings(studio, tmp_path / "mixes.csv", now=now, paper=tmp_path / "paper.csv")
    assert added.new_paints == ()
    with studio.look() as db:
        (one,) = readings.of_ids(db, added.kept)
    assert one.amounts == (("p1", 1.0), ("p2", 3.0))
    assert one.reading.paint is None
    assert one.paper_lab == (94.0, 0.5, 2.0)


def test_a_name_of_two_paints_is_refused_and_nothing_is_kept(
    studio: Studio, ladder: Path, now: datetime
) -> None:
    add_paints(studio, parse_table("maker,name\nTidewater,Rose\nOld Quarry,Rose\n"), now=now)
    with pytest.raises(UnknownPaint, match="2 paints"):
        add_readings(studio, ladder, now=now)
    assert len(list_paints(studio)) == 2
    with studio.look() as db:
        assert readings.listed(db) == []


def test_a_file_without_a_usable_row_is_refused(studio: Studio, tmp_path: Path, now: datetime) -> None:
    (tmp_path / "bad.csv").write_text("paint,amount,L,a,b\nRose,1,x,2,3\n")
    with pytest.raises(UnreadableTable, match=r"bad\.csv"):
        add_readings(studio, tmp_path / "bad.csv", now=now)


def test_undo_takes_readings_out_of_the_answers(studio: Studio, ladder: Path, now: datetime) -> None:
    add_readings(studio, ladder, now=now)
    undo(studio, now=now)
    with studio.look() as db:
        assert {one.reading.state for one in readings.listed(db)} == {"set aside"}
    assert list_paints(studio) == []
    assert len(add_readings(studio, ladder, now=now).kept) == 3


def test_real_films_and_mixtures_are_kept_whole(studio: Studio, shared_data: Path, now: datetime) -> None:
    # Chen, Huang, Chang, Ouhyoung 2019, arXiv 1904.00275: 13 paints by 11 amounts, 620 mixtures.
    folder = shared_data / "watercolour_mixtures"
    films = add_readings(studio, folder / "films.csv", now=now)
    mixtures = add_readings(studio, folder / "mixtures.csv", now=now)
    assert (len(films.kept), len(films.new_paints), films.problems) == (143, 13, ())
    assert (len(mixtures.kept), mixtures.new_paints, mixtures.problems) == (620, (), ())
