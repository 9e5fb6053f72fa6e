"""Tables on their side, as some instruments and published data write one spectrum."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.colour.spectra import BANDS, reflectance_to_lab
from halfpan.errors import UnreadableTable
from halfpan.files.instrument import measured_from, read_measured


def test_a_line_a_wavelength_reads_as_one_sample_a_column():
    lines = ["wavelength_nm,paper,grey", *(f"{w:.0f},0.{80 + i % 3},0.2" for i, w in enumerate(BANDS))]
    table = measured_from("\n".join(lines).encode(), "paper.csv")
    assert [row.name for row in table.rows] == ["paper", "grey"]
    np.testing.assert_allclose(table.rows[1].lab, reflectance_to_lab(np.full(31, 0.2)), atol=1e-9)


def test_a_wavelength_that_is_no_number_is_refused_in_a_sentence():
    with pytest.raises(UnreadableTable, match="wavelength"):
        measured_from(b"nm,paper\n400,0.8\nviolet,0.8\n", "paper.csv")


def test_units_of_amounts_may_stand_in_the_heading():
    (row,) = measured_from(
        b"paint_a,amount_a_ml,paint_b,amount_b_ml,L,a,b\nx,0.01,y,0.04,50,1,2\n", "m.csv"
    ).rows
    assert row.parts == (("x", 0.01), ("y", 0.04))


@pytest.mark.shared
def test_the_measured_paper_is_read(shared_data):
    (row,) = read_measured(shared_data / "watercolour_mixtures" / "paper.csv").rows
    assert 90 < row.lab[0] < 97
    assert len(row.reflectance) == 31
