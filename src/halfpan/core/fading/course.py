"""A change followed over days: what was seen between which looks. Nothing is said beyond the last look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfpan.core.fading.grade import JUST_SEEN
from halfpan.core.fading.halves import Fading
from halfpan.core.paint.light_words import ASTM_LIMITS
from halfpan.core.paint.witness import Said

LIMITS = (JUST_SEEN, ASTM_LIMITS["I"])
"""Changes in dE*ab that are named: just noticeable, and what the standard for artists' paints allows its best
category in its own exposure, here a yardstick and no rating."""


@dataclass(frozen=True, slots=True)
class Look:
    """One look at a strip: after how many days in light, and what had changed by then."""

    days: float
    fading: Fading


@dataclass(frozen=True, slots=True)
class Passed:
    """When a change passed a limit: surely not yet on day ``after``, surely by day ``by``.

    ``after`` is the start, day 0, where no look was sure enough; ``by`` is none where it has
    not surely passed.
    """

    limit: float
    after: float
    by: float | None


def passed(looks: Sequence[Look], limit: float) -> Passed:
    """Return between which looks a change passed a limit, in dE*ab.

    A change by light is not undone: the first look that is surely beyond the limit counts.
    """
    ordered = sorted(looks, key=lambda look: look.days)
    by = next((look.days for look in ordered if look.fading.least > limit), None)
    before = [look.days for look in ordered if by is None or look.days < by]
    short = [look.days for look in ordered if look.days in before and look.fading.most <= limit]
    return Passed(limit, max(short, default=0.0), by)


@dataclass(frozen=True, slots=True)
class LightRule:
    """When a window test gets a word. Halfpan's own limits, to be turned as you like; dE*ab and days.

    "Changed" is a change that is surely noticeable, "fades" one that is surely beyond what the standard for
    artists' paints accepts in its own exposure (categories I and II). No change is worth a word only after
    ``long_enough``: about four months behind a sunny window (common practice); earlier it is silence.
    """

    changed: float = JUST_SEEN
    fades: float = ASTM_LIMITS["II"]
    held: float = ASTM_LIMITS["I"]
    long_enough: float = 120.0


def word_for(look: Look, rule: LightRule | None = None) -> tuple[str, float | None]:
    """Return what a look shows in a word, and its place from holding, 0, to fugitive, 1, if it has one."""
    used = rule or LightRule()
    if look.fading.least > used.fades:
        return "fades", 1.0
    if look.fading.least > used.changed:
        return "changed", 0.5
    if look.fading.most > used.held:
        return "cannot be told, the doubt is too wide", None
    if look.days < used.long_enough:
        return "no sure change so far", None
    return "held so far", 0.0


def window_says(look: Look, strength: str, *, paper: str = "", glass: str = "") -> Said:
    """Return what a window test is as proof: the change with its doubt, the days, the paper, the glass."""
    word, level = word_for(look)
    change = f"ΔE*ab {look.fading.delta_e_ab:.1f} ± {look.fading.within_ab:.1f}"
    on = f", {paper}" if paper else ", paper not noted"
    behind = f", {glass}" if glass else ""
    days = f"{look.days:.0f} day{'' if round(look.days) == 1 else 's'}"
    return Said(f"{word}: {strength} {change} in my window test, {days}{on}{behind}", level)
