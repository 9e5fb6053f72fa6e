"""Instrument files: csv, CGATS.17 and CxF3.

Files of other software: what littleCMS wrote (instrument/SOURCES.md), the sample that colour-cxf ships, and
what colour-cxf writes here. The rest is made up here after the structure of the standards, with each slip
that real files make.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from halfpan.core.colour.spectra import BANDS, reflectance_to_lab
from halfpan.errors import UnreadableTable
from halfpan.files.instrument import measured_from, read_measured
from halfpan.files.target_colours import read_target_colours

CGATS = """CGATS.17
ORIGINATOR "swatch tool"
FILE_DESCRIPTOR "test"
CREATED "2026-11-24T10:00:00Z"
ILLUMINATION_NAME "D50"
OBSERVER_ANGLE "2"
FILTER "M1"
SAMPLE_BACKING "white"
NUMBER_OF_FIELDS 5
BEGIN_DATA_FORMAT
SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B
END_DATA_FORMAT
NUMBER_OF_SETS 2
BEGIN_DATA
1 "PB29 masstone" 25.10 20.35 -52.70
2 PY43 62.00 15.00 48.00
END_DATA
"""


EMPTY = '<CxF xmlns="http://colorexchangeformat.com/CxF3-core"/>'


def read(text, name="file"):
    return measured_from(text.encode() if isinstance(text, str) else text, name)


def test_a_table_of_lab_by_the_standards_structure_is_read():
    table = read(CGATS)
    assert [row.name for row in table.rows] == ["PB29 masstone", "PY43"]
    assert table.rows[0].lab == (25.10, 20.35, -52.70)
    assert table.rows[0].condition == "M1"
    assert table.problems == ()


@pytest.mark.parametrize("end", ["\r", "\n", "\r\n"])
def test_any_line_end_and_tabs_and_decimal_commas_will_do(end):
    text = CGATS.replace("25.10 20.35 -52.70", "25,10\t20,35\t-52,70").replace("\n", end)
    assert read(text).rows[0].lab == (25.10, 20.35, -52.70)


def test_counts_that_are_wrong_are_told_and_those_that_are_missing_are_not_missed():
    table = read(CGATS.replace("NUMBER_OF_SETS 2", "NUMBER_OF_SETS 7"))
    assert len(table.rows) == 2
    assert "NUMBER_OF_SETS 7" in table.problems[0]
    bare = "\n".join(line for line in CGATS.splitlines() if not line.startswith("NUMBER"))
    assert read(bare).problems == ()


def test_a_row_too_short_is_told_with_its_line():
    table = read(CGATS.replace("2 PY43 62.00", "2 PY43"))
    assert len(table.rows) == 1
    assert table.problems[-1].startswith("Line 16: 4 values where 5")


@pytest.mark.parametrize("style", ["SPECTRAL_NM_{}", "SPECTRAL_NM{}", "SPECTRAL_{}", "nm{}", "NM_{}", "R_{}"])
@pytest.mark.parametrize("per_cent", [False, True])
def test_bands_are_known_by_every_usual_name_and_in_per_cent(style, per_cent):
    reflectance = np.linspace(0.05, 0.85, 31)
    names = " ".join(style.format(int(w)) for w in BANDS)
    values = " ".join(f"{v * (100 if per_cent else 1):.6f}" for v in reflectance)
    head = f"CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID {names}\nEND_DATA_FORMAT\n"
    text = head + f"BEGIN_DATA\nA1 {values}\nEND_DATA\n"
    if style.startswith("R_"):
        text = "paint;" + ";".join(style.format(int(w)) for w in BANDS) + "\nA1;" + values.replace(" ", ";")
    row = read(text).rows[0]
    assert row.reflectance == pytest.approx(reflectance, abs=1e-5)
    assert row.lab == pytest.approx(reflectance_to_lab(reflectance), abs=1e-3)


def test_several_tables_in_one_file_are_all_read():
    second = CGATS.split("\n", 1)[1].replace("PB29 masstone", "PR101 masstone")
    assert [row.name for row in read(CGATS + second).rows] == [
        "PB29 masstone",
        "PY43",
        "PR101 masstone",
        "PY43",
    ]


def test_lab_under_another_light_is_refused_and_reflectance_is_not():
    for wrong in (CGATS.replace('"D50"', '"D65"'), CGATS.replace('ANGLE "2"', 'ANGLE "10"')):
        with pytest.raises(UnreadableTable, match="D50"):
            read(wrong)


def test_measuring_conditions_are_never_mixed():
    """ISO 13655: papers with brightener differ between M1 and M2."""
    second = CGATS.split("\n", 1)[1].replace("M1", "M2")
    with pytest.raises(UnreadableTable, match="M1 and M2"):
        read(CGATS + second)


def test_the_columns_of_a_mixture_give_parts_in_their_order():
    text = "paint_a,amount_a,paint_b,amount_b,L,a,b\nOchre,3,Blue,1.5,50,1,2\nOchre,3,,,60,5,30\n"
    table = read(text)
    assert table.rows[0].parts == (("Ochre", 3.0), ("Blue", 1.5))
    assert table.rows[1].parts == (("Ochre", 3.0),)
    assert table.rows[1].reflectance is None


def test_one_paint_with_its_amount_is_one_part_and_an_amount_may_be_unknown():
    table = read("paint,amount,L,a,b\nOchre,0.5,60,5,30\nBlue,,30,5,-40\n")
    assert [row.parts for row in table.rows] == [(("Ochre", 0.5),), (("Blue", None),)]


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("Ochre,much,60,5,30", "the amount 'much'"),
        ("Ochre,-1,60,5,30", "the amount '-1'"),
        ("Ochre,1,,5,30", "no colour"),
        ("Ochre,1,600,5,30", "no colour of paint"),
        ("Ochre,1,60,5", "4 cells"),
    ],
)
def test_a_line_that_cannot_be_used_is_told_and_the_others_kept(line, reason):
    table = read(f"paint,amount,L,a,b\n{line}\nBlue,2,30,5,-40\n")
    assert [row.name for row in table.rows] == ["Blue"]
    assert table.problems[0].startswith("Line 2")
    assert reason in table.problems[0]


def test_reflectance_with_a_gap_or_short_of_the_red_end_is_refused_line_by_line():
    columns = [f"R_{w}" for w in range(400, 691, 10)]
    with pytest.raises(UnreadableTable, match="400-700"):
        read("paint," + ",".join(columns) + "\nOchre," + ",".join(["0.5"] * 30))


@pytest.mark.parametrize("text", ["", "a picture", "x,y\n1,2\n", "\x00\x01binary", "L,a,b,L\n1,2,3,4\n"])
def test_what_is_no_table_of_readings_is_refused(text):
    with pytest.raises(UnreadableTable, match=r"^file .*\.$"):
        read(text)


def cxf(objects, *, spec='<WavelengthRange StartWL="400" Increment="10"/>', light="D50", observer="2_Degree"):
    return (
        '<?xml version="1.0" encoding="UTF-8"?><cc:CxF xmlns:cc="http://colorexchangeformat.com/CxF3-core">'
        "<cc:Resources><cc:ObjectCollection>" + objects + "</cc:ObjectCollection>"
        '<cc:ColorSpecificationCollection><cc:ColorSpecification Id="CS1"><cc:TristimulusSpec>'
        f"<cc:Illuminant>{light}</cc:Illuminant><cc:Observer>{observer}</cc:Observer></cc:TristimulusSpec>"
        "<cc:MeasurementSpec><cc:MeasurementType>Spectrum_Reflectance</cc:MeasurementType>"
        + spec.replace("<W", "<cc:W")
        + "<cc:Device><cc:DeviceFilter>Filter_UVExcluded</cc:DeviceFilter>"
        "<cc:DeviceIllumination>M2_UVExcluded</cc:DeviceIllumination></cc:Device></cc:MeasurementSpec>"
        "</cc:ColorSpecification></cc:ColorSpecificationCollection></cc:Resources></cc:CxF>"
    )


def lab_object(name, l, a, b):
    return (
        f'<cc:Object ObjectType="Target" Name="{name}" Id="{name}"><cc:ColorValues>'
        f'<cc:ColorCIELab ColorSpecification="CS1"><cc:L>{l}</cc:L><cc:A>{a}</cc:A><cc:B>{b}</cc:B>'
        "</cc:ColorCIELab></cc:ColorValues></cc:Object>"
    )


def spectrum_object(values, start='StartWL="400" '):
    return (
        '<cc:Object ObjectType="Target" Name="S" Id="S"><cc:ColorValues>'
        f'<cc:ReflectanceSpectrum {start}ColorSpecification="CS1">{" ".join(map(str, values))}'
        "</cc:ReflectanceSpectrum></cc:ColorValues></cc:Object>"
    )


def test_lab_of_a_cxf_file_is_read_with_its_condition():
    row = read(cxf(lab_object("Ochre", 60, 5.5, 30))).rows[0]
    assert (row.name, row.lab, row.condition) == ("Ochre", (60.0, 5.5, 30.0), "M2")


def test_a_cxf_spectrum_is_read_by_its_stated_step():
    values = np.round(np.linspace(0.05, 0.85, 31), 6)
    row = read(cxf(spectrum_object(values))).rows[0]
    assert row.reflectance == pytest.approx(values)
    five = np.round(np.linspace(0.05, 0.85, 61), 6)
    row = read(cxf(spectrum_object(five), spec='<WavelengthRange StartWL="400" Increment="5"/>')).rows[0]
    assert row.reflectance == pytest.approx(five[::2])


def test_the_step_of_a_spectrum_is_never_guessed():
    with pytest.raises(UnreadableTable, match="not guessed"):
        read(cxf(spectrum_object([0.5] * 31), spec=""))


def test_a_spectrum_that_ends_before_the_red_is_refused():
    """31 values from 380 nm by 10 end at 680: the published sample file is of this kind."""
    spec = '<WavelengthRange StartWL="380" Increment="10"/>'
    with pytest.raises(UnreadableTable, match="380-680 nm"):
        read(cxf(spectrum_object([0.5] * 31, 'StartWL="380" '), spec=spec))


def test_the_sample_file_of_another_library_is_read_by_its_lab():
    """The sample that colour-cxf ships; its first patch is L 17.64167 A 1.076669 B 0.3338588."""
    library = pytest.importorskip("colour_cxf")
    sample = Path(library.__file__).parent / "tests" / "resources" / "sample.cxf"
    if not sample.is_file():
        pytest.skip("this build of colour-cxf ships no sample file")
    table = read_measured(sample)
    theirs = library.read_cxf_from_file(str(sample)).resources.object_collection.object_value
    assert table.rows[0].lab == (17.64167, 1.076669, 0.3338588)
    assert len(table.rows) == len(theirs)


WRITTEN = Path(__file__).parent / "instrument"
NAMES = ["One", "Two, tint", "Three", "Four & five", "Six"]


def test_lab_written_by_littlecms_is_read_as_it_was_given():
    table = read_measured(WRITTEN / "littlecms_lab.txt")
    assert [row.name for row in table.rows] == NAMES
    assert [row.lab for row in table.rows] == [
        (25.1, 20.35, -52.7),
        (71.25, 3.5, -24.125),
        (83.0, -2.5, 74.75),
        (33.5, 21.0, 18.25),
        (15.0, 0.5, -0.25),
    ]
    assert {row.condition for row in table.rows} == {"M0"}
    assert table.problems == ()


def test_reflectance_written_by_littlecms_is_read_band_by_band():
    """380 to 730 nm in the file; its curve is 0.1 + 0.12 k + 0.1 sin(nm / (40 + 10 k)) in row k."""
    table = read_measured(WRITTEN / "littlecms_spectral.txt")
    assert [row.name for row in table.rows] == NAMES
    for k, row in enumerate(table.rows):
        curve = 0.1 + 0.12 * k + 0.1 * np.sin(BANDS / (40 + 10 * k))
        assert row.reflectance == pytest.approx(curve, abs=5.1e-5)
        assert row.condition == "M1"


def test_reflectance_written_by_another_cxf_library_is_read_band_by_band():
    """Written here by colour-cxf from the schema of ISO 17972-1."""
    library = pytest.importorskip("colour_cxf")
    values = np.round(np.linspace(0.05, 0.85, 36), 6)
    spec = '<WavelengthRange StartWL="380" Increment="10"/>'
    document = library.read_cxf(cxf(spectrum_object(values, 'StartWL="380" '), spec=spec).encode())
    row = read(library.write_cxf(document)).rows[0]
    assert row.reflectance == pytest.approx(values[2:33])
    assert (row.name, row.condition) == ("S", "M2")


def test_lab_under_another_light_in_a_cxf_file_is_refused():
    for how in ({"light": "D65"}, {"observer": "10_Degree"}):
        with pytest.raises(UnreadableTable, match="D50"):
            read(cxf(lab_object("Ochre", 60, 5, 30), **how))


@pytest.mark.parametrize(
    "text",
    [
        EMPTY,
        "<html><body/></html>",
        "<CxF>",
        '<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/hostname">]>' + EMPTY.replace("/>", ">&e;</CxF>"),
        '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>' + EMPTY.replace("/>", ">&b;</CxF>"),
        cxf(lab_object("Ochre", "NaN", 5, 30)),
    ],
)
def test_a_cxf_file_without_colours_or_with_entities_is_refused(text):
    with pytest.raises(UnreadableTable, match=r"^file .*\.$"):
        read(text)


def test_a_users_own_target_values_need_all_24_patches(tmp_path):
    path = tmp_path / "mine.csv"
    path.write_text("name,L,a,b\n" + "".join(f"p{k},{30 + k},{k},{-k}\n" for k in range(24)))
    assert read_target_colours(path).shape == (24, 3)
    path.write_text("name,L,a,b\np1,50,0,0\n")
    with pytest.raises(UnreadableTable, match="1 usable"):
        read_target_colours(path)


def test_a_missing_file_is_refused(tmp_path):
    with pytest.raises(UnreadableTable, match="cannot be opened"):
        read_measured(tmp_path / "none.csv")
