from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from halfpan.core.colour.spectra import BANDS, reflectance_to_lab
from halfpan.errors import UnreadableTable
from halfpan.files.instrument import read_measured

SPECTRUM = [round(0.1 + 0.02 * i, 3) for i in range(31)]
BANDS_HEADING = ",".join(f"R_{int(band)}" for band in BANDS)


def file_of(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "measured.csv"
    path.write_text(text)
    return path


def test_a_ladder_and_a_mix_are_read_with_their_amounts(tmp_path: Path) -> None:
    text = "paint_a,amount_a,paint_b,amount_b,L,a,b\nRose,1,Sand,2.5,60,20,-3\nRose,2,,,50,30,-5\n"
    rows = read_measured(file_of(tmp_path, text)).rows
    assert [row.parts for row in rows] == [(("Rose", 1.0), ("Sand", 2.5)), (("Rose", 2.0),)]
    assert rows[0].lab == (60.0, 20.0, -3.0)


def test_units_may_stand_in_the_heading(tmp_path: Path) -> None:
    text = "paint_a,amount_a_ml,paint_b,amount_b_ml,L*,a*,b*\nRose,0.01,Sand,0.02,60,20,-3\n"
    assert read_measured(file_of(tmp_path, text)).rows[0].parts == (("Rose", 0.01), ("Sand", 0.02))


def test_a_reflectance_becomes_the_colour_it_is(tmp_path: Path) -> None:
    text = f"paint,amount,{BANDS_HEADING}\nRose,1,{','.join(map(str, SPECTRUM))}\n"
    (row,) = read_measured(file_of(tmp_path, text)).rows
    assert row.reflectance == tuple(SPECTRUM)
    assert row.lab == pytest.approx(tuple(reflectance_to_lab(np.array(SPECTRUM))))


def test_per_cent_is_noticed_and_said(tmp_path: Path) -> None:
    text = f"paint,{BANDS_HEADING}\nRose,{','.join(str(100 * value) for value in SPECTRUM)}\n"
    measured = read_measured(file_of(tmp_path, text))
    assert measured.rows[0].reflectance == pytest.approx(SPECTRUM)
    assert any("per cent" in note for note in measured.notes)


def test_a_spectrum_written_downwards_is_read(tmp_path: Path) -> None:
    lines = "\n".join(f"{int(band)},{value}" for band, value in zip(BANDS, SPECTRUM, strict=True))
    (row,) = read_measured(file_of(tmp_path, f"wavelength_nm,R_paper\n{lines}\n")).rows
    assert row.reflectance == tuple(SPECTRUM)


@pytest.mark.parametrize(
    ("line", "problem"),
    [
        ("Rose,1,60,20,x", "b is “x”, not a number"),
        ("Rose,1,60,20", "b is missing"),
        ("Rose,1,600,20,3", "no colour of a surface"),
        ("Rose,-1,60,20,3", "below nought"),
        ("Rose,nan,60,20,3", "amount is nan"),
        ("Rose,inf,60,20,3", "amount is inf"),
    ],
)
def test_a_row_that_cannot_be_used_is_named_and_the_others_are_read(
    tmp_path: Path, line: str, problem: str
) -> None:
    measured = read_measured(file_of(tmp_path, f"paint,amount,L,a,b\n{line}\nSand,1,70,5,20\n"))
    assert [row.line for row in measured.rows] == [3]
    assert len(measured.problems) == 1
    assert "line 2" in measured.problems[0]
    assert problem in measured.problems[0]


def test_a_mix_without_amounts_is_not_guessed(tmp_path: Path) -> None:
    text = "paint_a,amount_a,paint_b,amount_b,L,a,b\nRose,1,Sand,,60,20,-3\n"
    assert "amount of each" in read_measured(file_of(tmp_path, text)).problems[0]


def test_bands_are_never_filled_in(tmp_path: Path) -> None:
    # Every second band is missing: 20 nm steps are not 10 nm steps.
    coarse = [f"R_{int(band)}" for band in BANDS[::2]]
    text = f"paint,{','.join(coarse)}\nRose,{','.join(['0.5'] * len(coarse))}\n"
    with pytest.raises(UnreadableTable, match="neither columns L, a, b nor reflectances"):
        read_measured(file_of(tmp_path, text))


def test_an_empty_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnreadableTable, match="empty"):
        read_measured(file_of(tmp_path, "\n"))
