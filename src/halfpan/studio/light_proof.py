"""What your own window tests prove of each paint, from the looks that were kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import light_tests
from halfpan.collection.light_tests import Exposure, LightTest
from halfpan.core.chart.light_sheet import HALVES
from halfpan.core.fading.course import Look, window_says
from halfpan.core.fading.halves import Halves, fading
from halfpan.core.measuring.change import Change, change
from halfpan.core.paint.reading import Lab
from halfpan.core.paint.witness import Said

STRENGTH_OF = {kept: strength for strength, (kept, _) in HALVES.items()}
WORDS = {"full": "full strength", "thin": "thin"}


@dataclass(frozen=True, slots=True)
class Strip:
    """One wash of a light test, followed from its start.

    Attributes
    ----------
    box, paint : where and of what; no paint where the box is for none
    strength : ``full`` or ``thin``
    looks : one a photo, by day; the start is a look without change
    blue_wool : the reference that had changed as much, the latest noted
    first, last : the first look and the last
    """

    box: str
    paint: str | None
    strength: str
    looks: tuple[Look, ...]
    blue_wool: int | None
    first: Exposure
    last: Exposure

    @property
    def kept(self) -> Lab:
        """The colour of the covered half at the last look."""
        return self.last.kept.reading.lab

    @property
    def exposed(self) -> Lab:
        """The colour of the half in light at the last look."""
        return self.last.exposed.reading.lab

    @property
    def kept_changed(self) -> Change | None:
        """How the covered half differs from its own first reading, where that is sure."""
        since = change(self.first.kept.reading, self.last.kept.reading)
        return since if since.sure else None

    def says(self, test: LightTest) -> Said:
        """Return what the last look proves."""
        return window_says(self.looks[-1], WORDS[self.strength], paper=test.paper, glass=test.glass)


def days_of(test: LightTest, one: Exposure) -> float:
    """Return the days in light at a look: none before the start, no more after the end."""
    if one.days is not None:
        return one.days
    day = min(one.looked.date(), test.ended or one.looked.date())
    return float(max(0, (day - test.started).days))


def strips_of(test: LightTest, exposures: Iterable[Exposure]) -> tuple[Strip, ...]:
    """Return the strips of a light test that were looked at, box by box, the full stroke first."""
    washes: dict[tuple[str, str], dict[str | int, Exposure]] = {}
    for one in exposures:
        if one.light_test == test.id:
            key = (one.box, STRENGTH_OF[one.kept.reading.zone])
            # A photo that was read anew stands for its older reading.
            washes.setdefault(key, {})[one.photo or one.id] = one
    found = [_strip(test, strength, list(looks.values())) for (_, strength), looks in washes.items()]
    return tuple(sorted(found, key=lambda one: (len(one.box), one.box, one.strength)))


def _strip(test: LightTest, strength: str, seen: list[Exposure]) -> Strip:
    ordered = sorted(seen, key=lambda one: (days_of(test, one), one.looked, one.id))
    first, last = ordered[0], ordered[-1]
    start = _halves(first) if days_of(test, first) == 0 else None
    looks = tuple(Look(days_of(test, one), fading(_halves(one), start)) for one in ordered)
    wools = [one.blue_wool for one in ordered if one.blue_wool is not None]
    return Strip(
        box=last.box,
        paint=last.paint,
        strength=strength,
        looks=looks,
        blue_wool=wools[-1] if wools else None,
        first=first,
        last=last,
    )


def _halves(one: Exposure) -> Halves:
    return Halves(one.kept.reading, one.exposed.reading)


def light_proof(db: Connection) -> dict[str, Said]:
    """Return, by paint, what the window tests of a studio prove; paints in none are left out."""
    exposures = light_tests.exposures(db)
    if not exposures:
        return {}
    told: dict[str, list[tuple[float, Said]]] = {}
    for test in light_tests.listed(db):
        for paint, (days, said) in _by_paint(test, strips_of(test, exposures)).items():
            told.setdefault(paint, []).append((days, said))
    return {paint: _strongest(several) for paint, several in told.items()}


def _by_paint(test: LightTest, strips: Iterable[Strip]) -> Mapping[str, tuple[float, Said]]:
    """Return for each paint of one test the strip that surely changed most, else one in doubt."""
    worst: dict[str, tuple[tuple[float, float], float, Said]] = {}
    for strip in strips:
        last, said = strip.looks[-1], strip.says(test)
        if strip.paint is None or last.days <= 0:
            continue
        weight = (_weight(said), last.fading.least)
        held = worst.get(strip.paint)
        if held is None or weight > held[0]:
            worst[strip.paint] = (weight, last.days, said)
    return {paint: (days, said) for paint, (_, days, said) in worst.items()}


def _weight(said: Said) -> float:
    """Order what strips say: a sure change above doubt, doubt above having held."""
    return 0.25 if said.level is None else said.level


def _strongest(told: list[tuple[float, Said]]) -> Said:
    """Return what several tests say together: the most changed that can be told, else the longest."""
    sure = [one for one in told if one[1].level is not None]
    return max(sure or told, key=lambda one: (one[1].level or 0.0, one[0]))[1]
