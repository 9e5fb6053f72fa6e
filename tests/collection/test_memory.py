"""What a running program remembers of a studio is what stands in the studio, whoever changed it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection, event

from halfpan.collection import changes, charts, findings, makers, page_reads, paints, papers, stock, swatches
from halfpan.collection.memory import MOST_CHANGES, MOST_PAINTS, touched
from halfpan.collection.page_reads import PageRead
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.chart.sheet import Chart, Sheet
from halfpan.core.paint.finding import Finding
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Light, Swatch
from halfpan.errors import BadRequest, StudioTrouble
from halfpan.studio.studio import Studio, open_studio

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
START = [
    Paint("", f"Maker {k % 2}", f"Range {k % 3}", f"Colour {k}", ("PB29",), form="tube") for k in range(6)
]


@contextmanager
def program(folder: Path, monkeypatch: pytest.MonkeyPatch | None = None) -> Iterator[Studio]:
    if monkeypatch:
        monkeypatch.delenv("HALFPAN_DATABASE", raising=False)
    studio = open_studio(folder)
    try:
        yield studio
    finally:
        studio.close()


def all_of_it(db: Connection) -> tuple[Any, ...]:
    return (
        paints.listed(db),
        swatches.listed(db, state="accepted"),
        swatches.listed(db, state="to review"),
        findings.listed(db),
    )


def as_remembered(studio: Studio) -> tuple[Any, ...]:
    with studio.look() as db:
        return all_of_it(db)


def as_it_stands(studio: Studio) -> tuple[Any, ...]:
    """Read everything anew: nothing is remembered where something can be kept."""
    with studio.transaction() as db:
        return all_of_it(db)


def swatch_of(paint: str | None, box: str, value: float) -> KeptSwatch:
    return KeptSwatch(Swatch(box, paint, "", masstone=(value, 1.0, 2.0), path=((value, 1.0, 2.0),)), NOW)


# ---- what can be done, each with a paint and a number -------------------------------------------------
def add(db: Connection, paint: str, n: int) -> None:
    paints.add_all(db, [replace(START[n % 6], name=f"New {n}")], now=NOW)


def rename(db: Connection, paint: str, n: int) -> None:
    paints.edit(db, paint, name=f"Called {n}")


def note(db: Connection, paint: str, n: int) -> None:
    paints.edit(db, paint, notes=f"note {n}", tags=(f"tag {n}",))


def recode(db: Connection, paint: str, n: int) -> None:
    paints.set_codes(db, paint, ("PB29", "PG7", "PV19")[: n % 4])


def move_range(db: Connection, paint: str, n: int) -> None:
    paints.move_to_range(db, paint, f"Maker {n % 3}", "Range 0")


def scales(db: Connection, paint: str, n: int) -> None:
    makers.set_scales(db, f"Maker {n % 2}", f"Range {n % 3}", f"lightfastness: {n}")


def put_away(db: Connection, paint: str, n: int) -> None:
    paints.put_away(db, paint, now=NOW)


def bring_back(db: Connection, paint: str, n: int) -> None:
    paints.bring_back(db, paint)


def buy(db: Connection, paint: str, n: int) -> None:
    stock.add(db, paint, stock.Item(form="pan", size_ml=float(n)))


def use_up(db: Connection, paint: str, n: int) -> None:
    for item in stock.listed(db, paint)[:1]:
        stock.edit(db, item.id, gone=NOW)


def weigh(db: Connection, paint: str, n: int) -> None:
    for item in stock.listed(db, paint)[:1]:
        stock.edit(db, item.id, amount_left=n / 10)


def read(db: Connection, paint: str, n: int) -> None:
    number = page_reads.add(db, PageRead("C1", 1, None, Light("paper"), (), "1", NOW)) if n % 2 else None
    one = swatch_of(paint if n % 5 else None, f"A{n % 3}", float(n))
    swatches.add_all(db, [replace(one, page_read=number, chart="C1")])


def accept(db: Connection, paint: str, n: int) -> None:
    swatches.set_state(
        db, [one.id for one in swatches.listed(db, state="to review")][: 1 + n % 3], "accepted"
    )


def set_aside(db: Connection, paint: str, n: int) -> None:
    swatches.set_state(db, [one.id for one in swatches.listed(db, state="accepted")][:1], "set aside")


def choose(db: Connection, paint: str, n: int) -> None:
    for one in swatches.listed(db, paint=paint)[-1:]:
        swatches.choose(db, one.id)


def give(db: Connection, paint: str, n: int) -> None:
    swatches.move(db, "C1", f"A{n % 3}", paint if n % 4 else None, "given")


def see(db: Connection, paint: str, n: int) -> None:
    findings.add(db, paint, Finding("flow", str(n), seen=date(2026, 1 + n % 12, 1), paper="Rough"))


def paper(db: Connection, paint: str, n: int) -> None:
    if not papers.listed(db):
        papers.add(db, papers.Paper(name="Rough"))
    else:
        (one,) = papers.listed(db)
        papers.edit(db, replace(one, name="Rough" if n % 2 else "Rough, 300 g"))


DOINGS: list[Callable[[Connection, str, int], None]] = [
    add, rename, note, recode, move_range, scales, put_away, bring_back, buy, use_up, weigh, read, read, read,
    accept, accept, set_aside, choose, give, give, see, paper,
]  # fmt: skip


def do(studio: Studio, doing: Callable[[Connection, str, int], None] | None, paint: str, n: int) -> None:
    """Do one of these, or undo something, as one change with its sentence."""
    with studio.transaction() as db:
        if doing is not None:
            with changes.noted(db, f"{doing.__name__} {paint} {n}", now=NOW):
                doing(db, paint, n)
            return
        try:
            changes.undo(db, None if n % 2 else 1 + n, now=NOW)
        except (BadRequest, StudioTrouble):
            db.rollback()


STEP = st.tuples(
    st.booleans(), st.sampled_from([*DOINGS, None, None, None]), st.integers(1, 6), st.integers(0, 9)
)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(STEP, min_size=4, max_size=18))
def test_what_is_remembered_is_what_stands_whoever_changed_it(
    steps: list[tuple[bool, Callable[[Connection, str, int], None] | None, int, int]],
) -> None:
    with (
        TemporaryDirectory() as folder,
        program(Path(folder) / "s") as here,
        program(Path(folder) / "s") as there,
    ):
        with here.transaction() as db, changes.noted(db, "added", now=NOW):
            paints.add_all(db, START, now=NOW)
            charts.add(db, Chart("C1", "swatch", Sheet(210, 297), ()), now=NOW)
        for elsewhere, doing, paint, n in steps:
            do(there if elsewhere else here, doing, f"p{paint}", n)
            assert as_remembered(here) == as_it_stands(there)
        assert as_remembered(there) == as_it_stands(here)


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Studio]:
    with program(tmp_path / "studio", monkeypatch) as studio:
        with studio.transaction() as db, changes.noted(db, "added", now=NOW):
            ids = paints.add_all(db, START * 4, now=NOW)
            swatches.add_all(db, [replace(swatch_of(one, "A1", 50.0), state="accepted") for one in ids])
        yield studio


@contextmanager
def queries(studio: Studio) -> Iterator[list[str]]:
    """Collect what is asked of the store."""
    asked: list[str] = []

    def ask(db: object, cursor: object, statement: str, *rest: object) -> None:
        asked.append(statement)

    event.listen(studio.engine, "before_cursor_execute", ask)
    yield asked
    event.remove(studio.engine, "before_cursor_execute", ask)


def test_what_nothing_touched_is_not_read_again(here: Studio) -> None:
    before = as_remembered(here)
    do(here, rename, "p3", 1)
    with queries(here) as asked:
        after = as_remembered(here)
    assert not [one for one in asked if "measures" in one]
    assert [one for one in asked if "FROM paints" in one and "IN (" in one]
    same = [a is b for a, b in zip(before[0], after[0], strict=True)]
    assert same.count(False) == 1
    with queries(here) as asked:
        as_remembered(here)
    assert not [one for one in asked if "FROM changes" not in one and not one.startswith("BEGIN")]


def test_a_moment_that_is_being_looked_at_stays_that_moment(here: Studio, tmp_path: Path) -> None:
    before = as_remembered(here)
    with program(tmp_path / "studio") as other, here.look() as db:
        assert paints.listed(db) == before[0]
        do(other, rename, "p3", 1)
        assert as_remembered(here)[0] != before[0]
        assert paints.listed(db) == before[0]


def test_what_is_being_kept_is_seen_at_once_and_forgotten_if_it_fails(here: Studio) -> None:
    before = as_remembered(here)

    def half_done() -> None:
        with here.transaction() as db, changes.noted(db, "renamed", now=NOW):
            rename(db, "p1", 7)
            assert paints.listed(db)[0].name == "Called 7"
            raise BadRequest("no")

    with pytest.raises(BadRequest):
        half_done()
    assert as_remembered(here) == before


def test_a_row_kept_without_a_change_is_not_missed(here: Studio) -> None:
    before = as_remembered(here)
    with here.transaction() as db:
        rename(db, "p1", 7)
    assert as_remembered(here)[0] != before[0]


def test_a_change_that_began_earlier_and_ended_later_is_not_missed(here: Studio) -> None:
    do(here, rename, "p1", 1)
    table = changes.tables.changes
    with here.transaction() as db:  # number 2 is taken by one that has not ended yet, as a server allows it
        db.execute(table.update().where(table.c.id == 2).values(id=3))
    as_remembered(here)
    with here.transaction() as db:
        rename(db, "p2", 2)
        step = {"table": "paints", "key": {"id": "p2"}, "before": {"name": ""}, "after": {"name": ""}}
        db.execute(table.insert().values(id=2, when=NOW, who="", what="late", steps=[step]))
        db.info.clear()
    assert as_remembered(here)[0][1].name == "Called 2"


def test_many_changes_or_one_of_many_paints_are_read_as_a_whole(here: Studio) -> None:
    as_remembered(here)
    for n in range(MOST_CHANGES + 1):
        do(here, note, f"p{1 + n % 20}", n + 10)
    assert as_remembered(here) == as_it_stands(here)
    many = {"table": "paints", "added": [{"id": f"p{n}"} for n in range(MOST_PAINTS + 1)]}
    with here.look() as db:
        assert touched(db, paints.LISTED, [many]) is None


def test_a_change_of_what_many_share_touches_them_all(here: Studio) -> None:
    step = {"table": "ranges", "key": {"id": 1}, "before": {"scales": ""}, "after": {"scales": "1 to 5"}}
    with here.look() as db:
        assert touched(db, paints.LISTED, [step]) is None
        assert touched(db, swatches.IN_USE["accepted"], [step]) == set()
