from __future__ import annotations

from sqlalchemy import Connection

from halfpan.collection import makers


def test_ranges_are_made_once_and_found_again(db: Connection) -> None:
    pairs = [("Tidewater", "Estuary"), ("Tidewater", ""), ("Old Quarry", "Estuary")]
    first = makers.ensure_ranges(db, pairs)
    assert len(set(first.values())) == 3
    assert makers.ensure_ranges(db, [*pairs, *pairs]) == first
    assert [(one.maker, one.range) for one in makers.listed(db)] == sorted((m, r) for m, r in pairs)


def test_the_direction_of_printed_scales_is_kept_with_the_range(db: Connection) -> None:
    makers.set_scales(db, "Tidewater", "Estuary", "light: 1 to 4, 4 lasts longest")
    assert makers.listed(db)[0].scales == "light: 1 to 4, 4 lasts longest"
