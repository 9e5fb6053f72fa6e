from __future__ import annotations

from datetime import datetime

import pytest

from halfpan.core.paint.paint import Paint
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
