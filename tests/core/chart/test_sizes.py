"""ISO 216 gives the A series; the inch is 25.4 mm; 22 x 30 inches is imperial (seen at several sellers)."""

from itertools import pairwise

import pytest

from halfpan.core.chart.sizes import SIZES_MM, sheet_of
from halfpan.errors import BadLayout


@pytest.mark.parametrize(
    ("text", "width", "height"),
    [
        ("A4", 210, 297),
        ("a5", 148, 210),
        ("A3 landscape", 420, 297),
        ("A2 portrait", 420, 594),
        ("Letter", 215.9, 279.4),
        ("us letter", 215.9, 279.4),
        ("Legal", 215.9, 355.6),
        ("Tabloid", 279.4, 431.8),
        ("imperial", 558.8, 762.0),
        ("1/4 imperial", 279.4, 381.0),
        ("quarter-imperial landscape", 381.0, 279.4),
        ("eighth_imperial", 190.5, 279.4),
        ("250x350", 250, 350),
        ("250 × 350 mm", 250, 350),
        ("250x350 landscape", 350, 250),
        ("181.5x230.25", 181.5, 230.25),
    ],
)
def test_a_name_or_two_lengths_give_the_sheet(text, width, height):
    sheet = sheet_of(text)
    assert (sheet.width_mm, sheet.height_mm) == (width, height)
    assert sheet.name


def test_each_a_size_is_the_next_larger_one_halved():
    names = ["A1", "A2", "A3", "A4", "A5", "A6"]
    for larger, smaller in pairwise(names):
        assert SIZES_MM[smaller][1] == SIZES_MM[larger][0]
        assert SIZES_MM[smaller][0] == int(SIZES_MM[larger][1] / 2)


@pytest.mark.parametrize("text", ["A9", "royal", "", "ten by twelve", "21x29", "9000x9000"])
def test_an_unknown_or_impossible_sheet_is_refused_with_something_to_try(text):
    with pytest.raises(BadLayout, match=r"Try one of|millimetres"):
        sheet_of(text)


def test_a_turned_sheet_says_so_and_gives_the_same_sheet_when_asked_for_by_its_name():
    turned = sheet_of("A4 landscape")
    assert turned.name == "A4 landscape"
    assert sheet_of(turned.name) == turned
