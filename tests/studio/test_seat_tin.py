"""Laying out, filling and seating tins in a real studio."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise

import pytest

from halfpan.collection import swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.colour.notation import munsell_to_lab
from halfpan.core.paint.reading import Swatch
from halfpan.errors import BadRequest
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.lay_tin import fill_tin, list_tins, lock_seats, move_pan, new_tin, show_tin, take_out
from halfpan.studio.seat_tin import odd_seats, seat_tin
from halfpan.studio.studio import open_studio
from halfpan.studio.undo import undo

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
HUES = ["5R", "5YR", "5Y", "5GY", "5G", "5BG", "5B", "5PB", "5P"]


@pytest.fixture
def studio(tmp_path):
    """Nine painted paints, the hues of one Munsell value and chroma, named by them."""
    opened = open_studio(tmp_path)
    listed = "maker,range,name,codes\n" + "".join(f"Tidewater,Ebb,Hue {hue},\n" for hue in HUES)
    add_paints(opened, parse_table(listed), now=NOW)
    with opened.transaction() as db:
        for at, hue in enumerate(HUES):
            lab = tuple(munsell_to_lab(f"{hue} 6/6"))
            measured = Swatch(f"A{at}", f"p{at + 1}", f"Hue {hue}", lab, lab, lab, 1.0)
            swatches.add_all(db, [KeptSwatch(measured, NOW, state="accepted")])
    yield opened
    opened.close()


def seated(studio, tin="Round"):
    kept, paints = show_tin(studio, tin)
    return [
        paints[kept.held[f"A{i}"].paint].name.removeprefix("Hue ")
        for i in range(1, 10)
        if f"A{i}" in kept.held
    ]


def test_painted_hues_are_seated_round_the_circle(studio):
    new_tin(studio, "Round", ["9h"], now=NOW)
    fill_tin(studio, "Round", ["p5", "p1", "p9", "p3", "p7", "p2", "p8", "p4", "p6"], now=NOW)
    done = seat_tin(studio, "Round", now=NOW)
    places = [HUES.index(hue) for hue in seated(studio)]
    assert all((b - a) % 9 in {1, 8} for a, b in pairwise(places))
    assert done.proved
    assert done.step < done.step_before
    assert done.unread == ()


def test_a_moved_pan_stays_and_only_the_rest_is_seated_anew(studio):
    new_tin(studio, "Round", ["9h"], now=NOW)
    fill_tin(studio, "Round", [f"p{i}" for i in range(1, 9)], now=NOW)
    move_pan(studio, "Round", "A1", "A5", now=NOW)
    seat_tin(studio, "Round", now=NOW)
    kept, _ = show_tin(studio, "Round")
    assert kept.held["A5"].paint == "p1"
    assert kept.held["A5"].locked
    assert sorted(kept.paints) == [f"p{i}" for i in range(1, 9)]


def test_a_locked_empty_seat_stays_empty(studio):
    new_tin(studio, "Round", ["9h"], now=NOW)
    lock_seats(studio, "Round", ["A1"], locked=True, now=NOW)
    fill_tin(studio, "Round", [f"p{i}" for i in range(1, 6)], now=NOW)
    seat_tin(studio, "Round", now=NOW)
    kept, _ = show_tin(studio, "Round")
    assert kept.held["A1"].paint is None
    assert len(kept.paints) == 5


def test_every_step_can_be_undone(studio):
    new_tin(studio, "Round", ["9h"], now=NOW)
    fill_tin(studio, "Round", ["p1", "p2", "p3"], now=NOW)
    before, _ = show_tin(studio, "Round")
    seat_tin(studio, "Round", now=NOW)
    take_out(studio, "Round", "p2", now=NOW)
    undo(studio, now=NOW)
    undo(studio, now=NOW)
    assert show_tin(studio, "Round")[0].held == before.held
    undo(studio, now=NOW)
    undo(studio, now=NOW)
    assert list_tins(studio) == []


def test_a_pan_out_of_place_is_named(studio):
    new_tin(studio, "Round", ["9h"], now=NOW)
    fill_tin(studio, "Round", ["p1", "p2", "p3", "p8", "p5", "p6", "p7", "p4", "p9"], now=NOW)
    odd = odd_seats(studio, "Round")
    assert {odd[0].seat, odd[0].swap_with} == {"A4", "A8"}


def test_what_does_not_fit_is_refused_and_nothing_is_put_in(studio):
    new_tin(studio, "Round", ["2h"], now=NOW)
    with pytest.raises(BadRequest, match="3 paints and 2 free seats"):
        fill_tin(studio, "Round", ["p1", "p2", "p3"], now=NOW)
    with pytest.raises(BadRequest, match="needs two or more"):
        seat_tin(studio, "Round", now=NOW)
    with pytest.raises(BadRequest, match="no seat Z9"):
        move_pan(studio, "Round", "A1", "Z9", now=NOW)
