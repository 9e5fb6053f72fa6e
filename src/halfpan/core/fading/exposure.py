"""How much light a strip in a window got: days, dose where it is known, the way the window faces.

Days are no dose: season, weather and glass are not in them. A dose is known only where somebody measured or
estimated the light; it is never guessed from days.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, get_args

Facing = Literal["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"]
FACINGS: tuple[Facing, ...] = get_args(Facing)

LOOKS = (7, 14, 30, 60, 120)
"""Days on which to look: dyes show in days to two weeks, weak reds in months (common practice)."""

TROPIC = 23.4
"""Degrees of latitude between which the sun stands on either side of noon's zenith in the year."""

SENSITIVITY = ("high", "medium", "low")
WOOLS = range(1, 9)


def dose_mlx_h(days: float, lux: float | None, hours_a_day: float | None) -> float | None:
    """Return the dose in Mlx h, or none where the light is not known.

    Parameters
    ----------
    days : in the light, 0 or more
    lux : mean illuminance at the strip in the hours counted
    hours_a_day : 0-24
    """
    if lux is None or hours_a_day is None:
        return None
    return lux * hours_a_day * days / 1e6


def due_look(plan: Sequence[int], looked: Sequence[float], days: float) -> int | None:
    """Return the latest day of the plan that has come and was not looked at since, or none.

    Parameters
    ----------
    plan : days on which to look, rising
    looked : days on which the strip was looked at
    days : in the light by now
    """
    last = max(looked, default=-1.0)
    come = [day for day in plan if last < day <= days]
    return come[-1] if come else None


def next_look(plan: Sequence[int], days: float) -> int | None:
    """Return the next day of the plan that is still to come, or none."""
    return next((day for day in plan if day > days), None)


def wrong_way(facing: str, latitude_deg: float | None) -> str | None:
    """Say in a sentence that a window faces away from the sun; none when it does not or nobody can tell.

    Parameters
    ----------
    facing : one of ``FACINGS``, or empty for unknown
    latitude_deg : degrees, north of the equator above 0
    """
    if not facing or latitude_deg is None or abs(latitude_deg) < TROPIC:
        return None
    side, away = ("south", "north") if latitude_deg > 0 else ("north", "south")
    if not facing.startswith(away):
        return None
    half = "north" if latitude_deg > 0 else "south"
    return (
        f"This window faces {facing}: {half} of the equator the sun stands in the {side}, "
        f"so the strip gets little of it."
    )


def sensitivity(wool: int) -> str:
    """Return how sensitive to light a colour is that changes as much as a blue wool reference, 1 to 8.

    References
    ----------
    .. [1] S. Michalski, Canadian Conservation Institute: high, blue wools 1-3; medium, 4-6; low, 7-8.
    """
    if wool not in WOOLS:
        raise ValueError(f"blue wools are numbered 1 to 8, not {wool}")
    return SENSITIVITY[(wool - 1) // 3]
