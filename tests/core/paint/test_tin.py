"""Tins: no standard gives sizes (from memory, stated), so sizes are the painter's."""

from __future__ import annotations

import pytest

from halfpan.core.paint.tin import row_letter, tin_of_rows
from halfpan.errors import BadRequest


def test_a_tin_is_spelt_row_by_row():
    tin = tin_of_rows("travel", ["3h-f", "qq"], gap_mm=1)
    assert [seat.name for seat in tin.seats] == ["A1", "A2", "A3", "A4", "A5", "B1", "B2"]
    assert [seat.size for seat in tin.seats] == ["half", "half", "half", None, "full", "quarter", "quarter"]
    assert tin.seat("A5").x == 4 * 17
    assert tin.width_mm == 4 * 17 + 30
    assert tin.height_mm == 20 + 9.5


def test_sizes_are_the_painters_own():
    tin = tin_of_rows(
        "mine", ["2h"], sizes={"half": (15, 20), "full": (28, 20), "quarter": (15, 10)}, gap_mm=0
    )
    assert (tin.width_mm, tin.height_mm) == (30, 20)


@pytest.mark.parametrize("rows", [["3x"], ["--"], []])
def test_what_is_no_tin_is_refused_in_a_sentence(rows):
    with pytest.raises(BadRequest, match=r"row|Row"):
        tin_of_rows("odd", rows)


def test_rows_go_on_after_z():
    assert [row_letter(i) for i in (0, 25, 26, 27)] == ["A", "Z", "AA", "AB"]
