"""Every light test: how long it hangs, when to look again, what changed; and which paints to test first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection

from halfpan.collection import charts, light_tests, paints
from halfpan.collection.light_tests import Exposure, LightTest
from halfpan.core.arranging.painted import Painted
from halfpan.core.fading.course import LIMITS, Passed, passed
from halfpan.core.fading.exposure import dose_mlx_h, due_look, next_look, sensitivity, wrong_way
from halfpan.core.fading.grade import grey_step
from halfpan.core.fading.halves import Fading, which_way
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.witness import Statement, answers
from halfpan.errors import UnknownChart
from halfpan.studio.light_proof import STRENGTH_OF, Strip, days_of, strips_of
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class StripSeen:
    """One wash of a test with all that follows from its looks."""

    strip: Strip
    paint: Paint | None
    says: str
    level: float | None

    @property
    def now(self) -> Fading:
        """What had changed at the last look."""
        return self.strip.looks[-1].fading

    @property
    def ways(self) -> tuple[str, ...]:
        """Which way it went, in words; nothing while no change is sure."""
        return which_way(self.now, self.strip.kept)

    @property
    def grey_scale(self) -> str:
        """The step of the grey scale (ISO 105-A02) nearest to the change."""
        return grey_step(self.now.delta_e_ab)

    @property
    def passed(self) -> tuple[Passed, ...]:
        """Between which looks it passed each named limit."""
        return tuple(passed(self.strip.looks, limit) for limit in LIMITS)

    @property
    def sensitivity(self) -> str | None:
        """How sensitive it is by the blue wool that changed as much, where one was noted."""
        return None if self.strip.blue_wool is None else sensitivity(self.strip.blue_wool)


@dataclass(frozen=True, slots=True)
class Waiting:
    """A wash of which looks wait for review: they count once somebody has accepted their readings.

    ``why`` are the doubts the readings were marked with.
    """

    box: str
    paint: Paint | None
    strength: str
    looks: int
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Followed:
    """A light test as it stands today.

    Attributes
    ----------
    days : in the light until today, or until it ended
    looked : the days it was looked at
    due : the day of the plan that has come without a look; none when nothing is due or the test has ended
    next : the next day of the plan, while it hangs
    dose : Mlx h so far, where the light is known
    remark : that the window faces away from the sun
    paints : of its sheet
    strips : the washes that were looked at
    waiting : the washes of which looks wait for review
    """

    test: LightTest
    days: int
    looked: tuple[int, ...]
    due: int | None
    next: int | None
    dose: float | None
    remark: str | None
    paints: tuple[Paint, ...]
    strips: tuple[StripSeen, ...]
    waiting: tuple[Waiting, ...]

    @property
    def unread(self) -> tuple[Paint, ...]:
        """The paints of its sheet nothing was read of."""
        read = {one.strip.paint for one in self.strips} | {one.paint.id for one in self.waiting if one.paint}
        return tuple(paint for paint in self.paints if paint.id not in read)


@dataclass(frozen=True, slots=True)
class First:
    """A paint worth testing first: doubtful by label or literature, or both say nothing that can be told."""

    paint: Paint
    doubtful: tuple[str, ...]
    statement: Statement

    @property
    def silent(self) -> bool:
        """Whether nobody can tell rather than somebody doubts."""
        return not self.doubtful


@dataclass(frozen=True, slots=True)
class Due:
    """What to do now: tests to look at, and paints to test first."""

    look: tuple[Followed, ...]
    first: tuple[First, ...]


def follow_light_tests(studio: Studio, *, now: datetime) -> tuple[Followed, ...]:
    """Return all light tests, the oldest first."""
    with studio.look() as db:
        exposures = light_tests.exposures(db)
        return tuple(_followed(db, test, exposures, now) for test in light_tests.listed(db))


def follow_light_test(studio: Studio, named: str, *, now: datetime) -> Followed:
    """Return one light test by its name, number or chart.

    Raises
    ------
    BadRequest
    """
    with studio.look() as db:
        return _followed(db, light_tests.find(db, named), light_tests.exposures(db), now)


def light_tests_of(studio: Studio, paint: str, *, now: datetime) -> tuple[Followed, ...]:
    """Return the light tests in which a paint was looked at, each with its strips of this paint alone.

    Parameters
    ----------
    paint : its id
    """
    with studio.look() as db:
        exposures = [one for one in light_tests.exposures(db) if one.paint == paint]
        seen = {one.light_test for one in exposures}
        tests = [test for test in light_tests.listed(db) if test.id in seen] if seen else []
        return tuple(_followed(db, test, exposures, now) for test in tests)


def due_now(studio: Studio, *, now: datetime) -> Due:
    """Return the tests to look at now, and the owned paints to test first: doubtful ones, then silence."""
    with studio.look() as db:
        exposures = light_tests.exposures(db)
        followed = [_followed(db, test, exposures, now) for test in light_tests.listed(db)]
        running = {paint.id for one in followed if one.test.ended is None for paint in one.paints}
        owned = painted_paints(db)
    first = [found for one in owned if one.paint.id not in running and (found := _first(one)) is not None]
    return Due(
        tuple(one for one in followed if one.due is not None),
        tuple(sorted(first, key=lambda one: -len(one.doubtful))),
    )


def _first(one: Painted) -> First | None:
    light = next(said for said in one.statements() if said.property == "light")
    if answers("light", light.proof) is not None:
        return None
    told = {"label": answers("light", light.label), "literature": answers("light", light.literature)}
    doubtful = tuple(witness for witness, doubted in told.items() if doubted)
    silent = all(doubted is None for doubted in told.values())
    return First(one.paint, doubtful, light) if doubtful or silent else None


def _followed(db: Connection, test: LightTest, exposures: Sequence[Exposure], now: datetime) -> Followed:
    today = now.date()
    days = max(0, (min(test.ended or today, today) - test.started).days)
    waiting = light_tests.waiting(db, test.id)
    looked = sorted({int(days_of(test, one)) for one in (*exposures, *waiting) if one.light_test == test.id})
    hangs = test.ended is None
    on_sheet = _paints_of(db, test)
    by_id = {paint.id: paint for paint in on_sheet}
    return Followed(
        test=test,
        days=days,
        looked=tuple(looked),
        due=due_look(test.looks, looked, days) if hangs else None,
        next=next_look(test.looks, days) if hangs else None,
        dose=dose_mlx_h(days, test.lux, test.hours_a_day),
        remark=wrong_way(test.facing, test.latitude_deg) if hangs else None,
        paints=tuple(on_sheet),
        strips=tuple(_seen(test, strip, by_id) for strip in strips_of(test, exposures)),
        waiting=_waiting(waiting, by_id),
    )


def _waiting(looks: Sequence[Exposure], by_id: dict[str, Paint]) -> tuple[Waiting, ...]:
    """Gather looks that wait for review by their washes."""
    washes: dict[tuple[str, str], list[Exposure]] = {}
    for one in looks:
        washes.setdefault((one.box, STRENGTH_OF[one.kept.reading.zone]), []).append(one)
    found = []
    for (box, strength), of in sorted(washes.items(), key=lambda wash: (len(wash[0][0]), wash[0])):
        flags = [flag for one in of for half in (one.kept, one.exposed) for flag in half.reading.flags]
        photos = {one.photo or one.id for one in of}
        paint = by_id.get(of[-1].paint or "")
        found.append(Waiting(box, paint, strength, len(photos), tuple(dict.fromkeys(flags))))
    return tuple(found)


def _paints_of(db: Connection, test: LightTest) -> list[Paint]:
    try:
        chart = charts.find(db, test.chart or "").chart
    except UnknownChart:  # put away by an undo; its readings stay
        return []
    return paints.of_ids(db, [box.paint for page in chart.pages for box in page.boxes if box.paint])


def _seen(test: LightTest, strip: Strip, by_id: dict[str, Paint]) -> StripSeen:
    said = strip.says(test)
    return StripSeen(strip, by_id.get(strip.paint or ""), said.text, said.level)
