"""Grades as published: the grey scale for a change of colour. They describe a difference, not a paint."""

from __future__ import annotations

GREY_SCALE = {
    "5": 0.0,
    "4-5": 0.8,
    "4": 1.7,
    "3-4": 2.5,
    "3": 3.4,
    "2-3": 4.8,
    "2": 6.8,
    "1-2": 9.6,
    "1": 13.6,
}
"""Contrast of each step of the grey scale for change in colour, dE*ab.

ISO 105-A02; whole steps as published, half steps from memory.
"""

JUST_SEEN = GREY_SCALE["4"]
"""A change that is just noticeable, dE*ab: grey scale 4 (common practice)."""


def grey_step(delta_e_ab: float) -> str:
    """Return the step of the grey scale whose contrast is nearest to a difference of 0 or more, in dE*ab.

    Midway the more changed of the two counts.
    """
    steps = list(GREY_SCALE)
    return min(reversed(steps), key=lambda step: abs(GREY_SCALE[step] - delta_e_ab))
