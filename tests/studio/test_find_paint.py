from __future__ import annotations

import pytest

from halfpan.core.paint.paint import Paint
from halfpan.errors import UnknownPaint
from halfpan.studio.find_paint import pick_paint

PAINTS = [
    Paint(id="p1", maker="Tidewater", range="Estuary", name="Rose", codes=("PV19",)),
    Paint(id="p2", maker="Old Quarry", range="Studio", name="Rose", codes=("PR122",)),
    Paint(id="p3", maker="Old Quarry", range="Studio", name="Terre brûlée", other_names=("Burnt Earth",)),
]


@pytest.mark.parametrize(
    ("text", "id_"),
    [("p2", "p2"), ("P3", "p3"), ("terre brulee", "p3"), ("burnt earth", "p3"), ("Tidewater rose", "p1")],
)
def test_a_paint_is_found_by_its_id_or_a_name_only_it_answers_to(text: str, id_: str) -> None:
    assert pick_paint(PAINTS, text).id == id_


def test_a_name_of_two_paints_is_refused_with_both() -> None:
    with pytest.raises(UnknownPaint, match=r"2 paints: p1 .*PV19.*; p2 .*PR122"):
        pick_paint(PAINTS, "rose")


def test_a_slip_is_answered_with_the_near_name_and_not_taken() -> None:
    with pytest.raises(UnknownPaint, match=r"No paint answers to “Terre brulé”\. Perhaps p3"):
        pick_paint(PAINTS, "Terre brulé")
    with pytest.raises(UnknownPaint, match=r"No paint answers to “zzz”\.$"):
        pick_paint(PAINTS, "zzz")
