"""Tins in the store."""

from __future__ import annotations

import pytest

from halfpan.collection import tins
from halfpan.collection.tins import Held, KeptTin
from halfpan.errors import BadRequest


def test_a_tin_comes_back_as_it_was_kept(db):
    number = tins.add(db, KeptTin("Travel", ("3h-f", "qq"), gap_mm=0.5, notes="dented"))
    kept = tins.find(db, "travel")
    assert (kept.id, kept.rows, kept.gap_mm, kept.notes) == (number, ("3h-f", "qq"), 0.5, "dented")
    assert tins.find(db, number) == kept


def test_seats_hold_what_they_are_given_and_forget_what_is_taken(db):
    number = tins.add(db, KeptTin("Travel", ("4h",)))
    tins.seat(db, number, {"A1": Held(locked=True, note="brush"), "A2": Held()})
    assert tins.find(db, number).held == {"A1": Held(locked=True, note="brush")}
    tins.seat(db, number, {})
    assert tins.find(db, number).held == {}


def test_a_name_is_given_once_and_nonsense_is_refused(db):
    tins.add(db, KeptTin("Travel", ("4h",)))
    with pytest.raises(BadRequest, match="already"):
        tins.add(db, KeptTin("travel", ("2h",)))
    with pytest.raises(BadRequest, match="Row 1"):
        tins.add(db, KeptTin("Other", ("zz",)))
    with pytest.raises(BadRequest, match="the tins are: Travel"):
        tins.find(db, "Studio")


def test_a_tin_taken_apart_is_gone(db):
    number = tins.add(db, KeptTin("Travel", ("4h",), held={"A1": Held(locked=True)}))
    tins.remove(db, number)
    assert tins.listed(db) == []
