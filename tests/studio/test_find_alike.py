from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from halfpan.collection import changes, orders, paints, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.arranging.substitutes import Wanted
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch
from halfpan.errors import UnknownPaint
from halfpan.studio.compare_ranges import Compared, compare_ranges
from halfpan.studio.correct_paint import correct_paint, remove_paint
from halfpan.studio.find_alike import Alike, find_alike, find_alike_to
from halfpan.studio.name_paint import name_paint
from halfpan.studio.order_paints import order_paints, place_paint
from halfpan.studio.own_paint import own_paint
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.studio import Studio, open_studio
from halfpan.studio.substitute_paint import substitute_paint
from halfpan.studio.undo import undo

BLUE = ((30.0, 20.0, -55.0), (60.0, 5.0, -40.0), (85.0, -2.0, -15.0))
GREEN = ((45.0, -50.0, 5.0), (70.0, -38.0, 0.0), (88.0, -15.0, -3.0))
MINE = {
    "Harbour Blue": (("PB29",), BLUE, 0.0),
    "Estuary Blue": (("PB29",), BLUE, 1.0),
    "Cobalt": (("PB28",), BLUE, 1.5),
    "Fern": (("PG7",), GREEN, 0.0),
    "Unlabelled": ((), BLUE, 0.5),
}


def swatch(paint: str, name: str, labs: tuple[tuple[float, float, float], ...], shift: float) -> Swatch:
    masstone, mid, tint = ((lab[0] + shift, lab[1], lab[2]) for lab in labs)
    return Swatch("A1", paint, name, masstone, mid, tint)


@pytest.fixture
def read(studio: Studio, now: datetime) -> tuple[Studio, dict[str, str]]:
    with studio.transaction() as db:
        new = [Paint("", "Tidewater", "Ebb", name, codes) for name, (codes, _, _) in MINE.items()]
        ids = dict(zip(MINE, paints.add_all(db, new, now=now), strict=True))
        swatches.add_all(
            db,
            [
                KeptSwatch(swatch(ids[name], name, labs, shift), now, state="accepted", tier="paper")
                for name, (_, labs, shift) in MINE.items()
            ],
        )
    return studio, ids


def test_what_is_alike_is_found_among_accepted_swatches(read: tuple[Studio, dict[str, str]]) -> None:
    studio, ids = read
    pairs = {(one.kind, one.first, one.second) for one in find_alike(studio).likenesses}
    assert ("duplicate", ids["Harbour Blue"], ids["Estuary Blue"]) in pairs
    assert ("look-alike", ids["Harbour Blue"], ids["Cobalt"]) in pairs
    assert find_alike(studio).unread == 0


def test_what_is_alike_is_worked_out_anew_after_every_change_that_tells_and_only_then(
    read: tuple[Studio, dict[str, str]], now: datetime
) -> None:
    studio, ids = read

    def answers(asked: Studio) -> tuple[Alike, Compared]:
        return find_alike(asked), compare_ranges(asked, "all")

    def read_again() -> None:
        with studio.transaction() as db, changes.noted(db, "read", now=now):
            moved = swatch(ids["Cobalt"], "Cobalt", GREEN, 0.2)
            swatches.add_all(db, [KeptSwatch(moved, now, state="accepted", tier="instrument")])

    tellings: tuple[Callable[[], object], ...] = (
        lambda: correct_paint(studio, ids["Cobalt"], codes="PB35", now=now),
        lambda: correct_paint(studio, ids["Fern"], name="Bracken", now=now),
        lambda: remove_paint(studio, ids["Unlabelled"], now=now),
        read_again,
        lambda: undo(studio, now=now),
    )
    for tell in tellings:
        before = answers(studio)
        assert find_alike(studio) is before[0]
        assert compare_ranges(studio, "all").ranges[0].glance is before[1].ranges[0].glance
        tell()
        after = answers(studio)
        assert after != before
        fresh = open_studio(studio.folder)
        assert after == answers(fresh)
        fresh.close()


def test_swatches_that_wait_for_review_are_not_looked_at(
    read: tuple[Studio, dict[str, str]], now: datetime
) -> None:
    studio, ids = read
    with studio.transaction() as db:
        far = swatch(ids["Harbour Blue"], "Harbour Blue", GREEN, 0.0)
        swatches.add_all(db, [KeptSwatch(far, now, state="to review", tier="instrument")])
    assert "duplicate" in {one.kind for one in find_alike_to(studio, "Harbour Blue").likenesses}


def test_the_measure_becomes_the_painters_own_once_a_paint_is_painted_twice(
    read: tuple[Studio, dict[str, str]], now: datetime
) -> None:
    studio, ids = read
    assert find_alike(studio).repeat.measured == 0
    with studio.transaction() as db:
        twin = swatch(ids["Harbour Blue"], "Harbour Blue", BLUE, 0.4)
        other_box = Swatch("A2", twin.paint, twin.name, twin.masstone, twin.mid, twin.tint)
        swatches.add_all(db, [KeptSwatch(other_box, now, state="accepted", tier="paper")])
    repeat = find_alike(studio).repeat
    assert repeat.measured == 1
    assert repeat.mid < 1.5
    assert "duplicate" in {one.kind for one in find_alike(studio).likenesses}


def test_owning_by_look_asks_the_readings(read: tuple[Studio, dict[str, str]]) -> None:
    studio, ids = read
    found = own_paint(studio, "Unlabelled").owned
    assert {one.second for one in found.look} == {ids["Harbour Blue"], ids["Estuary Blue"], ids["Cobalt"]}


def test_a_substitute_comes_from_what_is_owned(read: tuple[Studio, dict[str, str]]) -> None:
    studio, ids = read
    replaced = substitute_paint(studio, "Harbour Blue", Wanted(without=("cobalt",)))
    assert [one.paint for one in replaced.substitutes.found][:1] == [ids["Estuary Blue"]]
    assert ids["Cobalt"] not in [one.paint for one in replaced.substitutes.found]
    with pytest.raises(UnknownPaint):
        substitute_paint(studio, "Nobody's Red")


def test_an_unlabelled_paint_is_ranked_by_how_known_ones_look(read: tuple[Studio, dict[str, str]]) -> None:
    studio, _ = read
    named = name_paint(studio, "Unlabelled").named
    assert {guess.code for guess in named.guesses[:2]} == {"PB29", "PB28"}
    assert "cannot be told apart" in named.sentence


def test_a_range_at_a_glance_counts_what_was_read(read: tuple[Studio, dict[str, str]]) -> None:
    studio, _ = read
    (seen,) = compare_ranges(studio, "Tidewater").ranges
    assert (seen.glance.paints, seen.glance.read) == (5, 5)


def test_the_own_order_is_never_touched_and_a_new_paint_is_placed_in_it(
    read: tuple[Studio, dict[str, str]], now: datetime, tmp_path: Path
) -> None:
    studio, ids = read
    own = [ids[name] for name in ("Fern", "Cobalt", "Estuary Blue", "Harbour Blue")]
    with studio.transaction() as db:
        orders.keep(db, own)
    rule_chart(studio, ChartWish(paints=",".join(own), sheet="A4"), tmp_path / "chart.pdf", now=now)
    placed = place_paint(studio, "Unlabelled")
    assert {placed.gap.before, placed.gap.after} & {ids["Estuary Blue"], ids["Harbour Blue"], ids["Cobalt"]}
    (repaint,) = placed.repaints
    assert repaint.fewest == 1
    assert list(order_paints(studio).own) == own
