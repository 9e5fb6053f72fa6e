from __future__ import annotations

from datetime import datetime

import pytest

from halfpan.collection import changes, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch
from halfpan.errors import BadRequest
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.list_paints import list_paints
from halfpan.studio.studio import Studio
from halfpan.studio.wish import drop_wish, list_wishes, wish_for

ULTRAMARINE = Paint(id="", maker="Tidewater", range="", name="Deep Sea", codes=("PB29",))


def test_a_wish_names_what_is_owned_with_the_same_pigments(studio: Studio, now: datetime) -> None:
    add_paints(studio, parse_table("name,codes\nHarbour Blue,PB29\nNight,PB29 PBk9\n"), now=now)
    wish = wish_for(studio, ULTRAMARINE, "for the sea", now=now)
    assert [one.name for one in wish.same_codes] == ["Harbour Blue"]
    assert [(one.paint.name, one.why) for one in list_wishes(studio)] == [("Deep Sea", "for the sea")]
    assert [one.name for one in list_paints(studio, owned=True)] == ["Harbour Blue", "Night"]


def covered(studio: Studio) -> dict[str, tuple[str, ...]]:
    (wish,) = list_wishes(studio)
    return {one.paint.name: one.ways for one in wish.covered}


def test_a_wish_is_covered_by_another_form_of_its_pigment_and_says_so(studio: Studio, now: datetime) -> None:
    owned = "name,codes\nWarm Blue,PB15:1\nCool Blue,PB15:3\nMixed,PB15:3 PG7\nRed,PR254\n"
    add_paints(studio, parse_table(owned), now=now)
    wish_for(studio, Paint("", "Tidewater", "", "Deep Blue", ("PB15:3",)), "", now=now)
    assert covered(studio) == {"Cool Blue": ("same codes",), "Warm Blue": ("same pigment",)}


def test_a_wish_without_codes_is_covered_by_name_and_by_what_the_name_promises(
    studio: Studio, now: datetime
) -> None:
    add_paints(studio, parse_table("name,codes\nUltramarine,PB29\nNight,PB29\nRed,PR254\n"), now=now)
    wish_for(studio, Paint("", "Tidewater", "", "Ultramarine"), "", now=now)
    assert covered(studio) == {"Ultramarine": ("same name",), "Night": ("same pigment",)}


def test_a_wish_that_was_read_is_covered_by_what_cannot_be_told_from_it(
    studio: Studio, now: datetime
) -> None:
    add_paints(studio, parse_table("name,codes\nTwin,PV19\nFar,PV19 PR122\nMate,PB29\n"), now=now)
    number = wish_for(studio, ULTRAMARINE, "", now=now).paint.id
    looks = {"p1": 30.0, "p2": 60.0, "p3": 30.5, number: 30.0}
    with studio.transaction() as db, changes.noted(db, "read", now=now):
        kept = [KeptSwatch(_box(paint, value), now, state="accepted") for paint, value in looks.items()]
        swatches.add_all(db, kept)
    assert covered(studio) == {"Mate": ("same codes", "same look"), "Twin": ("same look",)}


def _box(paint: str, value: float) -> Swatch:
    lab = (value, 10.0, -40.0)
    return Swatch("A1", paint, "", masstone=lab, mid=lab, tint=lab)


def test_what_is_owned_cannot_be_wished_for(studio: Studio, now: datetime) -> None:
    add_paints(studio, parse_table("maker,name,codes\nTidewater,Deep Sea,PB29\n"), now=now)
    with pytest.raises(BadRequest, match="owned already, as p1"):
        wish_for(studio, ULTRAMARINE, "", now=now)


def test_a_wish_that_comes_true_becomes_an_owned_paint_under_its_number(
    studio: Studio, now: datetime
) -> None:
    wish_for(studio, ULTRAMARINE, "", now=now)
    read = add_paints(studio, parse_table("maker,name,codes,form\nTidewater,Deep Sea,PB29,tube\n"), now=now)
    assert [(line.outcome, line.paint) for line in read.lines] == [("wish come true", "p1")]
    assert list_wishes(studio) == []
    (held,) = list_paints(studio, owned=True)
    assert (held.id, held.form) == ("p1", "tube")


def test_a_wish_can_be_dropped(studio: Studio, now: datetime) -> None:
    wish_for(studio, ULTRAMARINE, "", now=now)
    drop_wish(studio, "Deep Sea", now=now)
    assert list_wishes(studio) == []
