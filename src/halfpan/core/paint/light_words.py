"""What the words of the light tests for artists' paints stand for: how far the tint changed in that exposure.

The limits are on the mean CIE 1976 difference (not CIEDE2000) of the exposed tint. They describe the
standard's own exposure; a strip in a window is no such test.

References
----------
.. [1] ASTM D4303, lightfastness of colorants used in artists' materials; limits of I to III as laboratories
   quote them, of IV and V and the side that a limit itself belongs to from memory.
"""

from __future__ import annotations

import re

ASTM_LIMITS = {"I": 4.0, "II": 8.0, "III": 16.0, "IV": 24.0, "V": float("inf")}
"""The most each category has changed, in dE*ab; a change of just the limit belongs to it."""

ASTM_SOURCE = "ASTM D4303, limits of I to III as laboratories quote them, IV and V from memory"


def what_it_means(word: str) -> str | None:
    """Return in words what a category such as II, or two such as I-II, stands for; none for other words."""
    found = re.fullmatch(r"(IV|I{1,3}|V)(?:-(IV|I{1,3}|V))?", word.strip())
    if found is None:
        return None
    first, last = found[1], found[2] or found[1]
    names = list(ASTM_LIMITS)
    before = names.index(first) - 1
    least = ASTM_LIMITS[names[before]] if before >= 0 else 0.0
    most = ASTM_LIMITS[last]
    if most == float("inf"):
        return f"the tint changed by more than ΔE*ab {least:.0f} in the test's exposure"
    if least == 0:
        return f"the tint changed by at most ΔE*ab {most:.0f} in the test's exposure"
    return f"the tint changed by more than ΔE*ab {least:.0f}, at most {most:.0f}, in the test's exposure"
