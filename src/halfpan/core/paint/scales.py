"""Ratings as makers print them, each in its own scale, brought onto one line of 0 to 1.

The direction of a printed scale is never guessed: it comes from words that mean something by themselves,
or from what the maker states ("1 to 4, 4 covers most"). Where neither helps, the rating stays words and is
compared with nothing. The line is Halfpan's own, for comparing witnesses, not for grading paints.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

Property = Literal["light", "transparency", "granulation", "staining"]
PROPERTIES: tuple[Property, ...] = ("light", "transparency", "granulation", "staining")

WORDS: Mapping[Property, Mapping[str, float]] = {
    "light": {
        "holds": 0.0, "lasting": 0.0, "excellent": 0.0, "very good": 0.0, "permanent": 0.0, "lightfast": 0.0,
        "doubtful": 0.5, "moderate": 0.5, "partly": 0.5,
        "fugitive": 1.0, "poor": 1.0, "short-lived": 1.0, "not lightfast": 1.0, "fades": 1.0,
    },
    "transparency": {
        "transparent": 0.0, "t": 0.0, "clear": 0.0,
        "semi-transparent": 1 / 3, "semitransparent": 1 / 3, "st": 1 / 3,
        "semi-opaque": 2 / 3, "semiopaque": 2 / 3, "so": 2 / 3,
        "opaque": 1.0, "o": 1.0, "covering": 1.0,
    },
    "granulation": {
        "smooth": 0.0, "even": 0.0, "no": 0.0, "not granulating": 0.0, "none": 0.0, "non-granulating": 0.0,
        "somewhat granulating": 0.5, "slightly granulating": 0.5, "a little grainy": 0.5, "some": 0.5,
        "granulating": 1.0, "g": 1.0, "yes": 1.0, "grainy": 1.0,
    },
    "staining": {
        "lifts": 0.0, "lifting": 0.0, "non-staining": 0.0, "not staining": 0.0, "no": 0.0, "low": 0.0,
        "mostly lifts": 0.25, "stains somewhat": 0.5, "stains a little": 0.5, "semi-staining": 0.5,
        "half staining": 0.5, "medium": 0.5, "middle": 0.5, "stains": 0.75, "staining": 0.75,
        "high": 1.0, "stains strongly": 1.0, "yes": 0.75,
    },
}  # fmt: skip
_ASTM = {"i": 0.0, "ii": 0.1, "iii": 0.5, "iv": 1.0, "v": 1.0}
_HEADS: Mapping[Property, str] = {
    "light": r"light\w*|permanence",
    "transparency": r"transparency|opacity|body|hiding",
    "granulation": r"grain\w*|granulation",
    "staining": r"stain\w*",
}
_ENDS: Mapping[Property, tuple[str, str]] = {
    "light": (r"longest|best|most lightfast|most lasting|most permanent", r"worst|fugitive|fades|least"),
    "transparency": (r"transparent|clear", r"opaque|cover|hide"),
    "granulation": (r"smooth|least|not", r"grain|granulat"),
    "staining": (r"lift|least", r"stain"),
}


def level_of(prop: Property, printed: str, scales: str = "") -> float | None:
    """Return where a printed rating stands between 0 and 1, or none if its scale does not say.

    Parameters
    ----------
    prop : property
        0 is: holds in light, transparent, smooth, lifts; 1 is: fugitive, opaque, granulating, stains.
    printed : str
        The rating as the label prints it.
    scales : str
        The directions of the maker's scales, such as ``light: L1 to L4, L1 lasts longest``.

    Notes
    -----
    ASTM words count when the scale names ASTM: I and II are what the standards for artists' paints accept
    (ASTM D4303, D5067), III is short of it.
    """
    word = printed.strip().casefold()
    if not word:
        return None
    clause = scale_of(prop, scales).casefold()
    if prop == "light" and "astm" in f"{clause} {word}":
        grade = re.search(r"\b(iii|ii|iv|i|v)\b", word)
        return _ASTM[grade[1]] if grade else None
    place = _place(prop, word, clause)
    return WORDS[prop].get(word) if place is None else place


def scale_of(prop: Property, scales: str) -> str:
    """Return what the maker states about one scale, as printed, or nothing."""
    heads = "|".join(_HEADS.values())
    clause = rf"\b(?:{_HEADS[prop]})\s*:\s*(.*?)(?=[,;.]?\s*\b(?:{heads})\s*:|$)"
    found = re.search(clause, scales, re.IGNORECASE)
    return found[1].strip(" ,;.") if found else ""


def _place(prop: Property, word: str, clause: str) -> float | None:
    """Return where a step stands on a stated run of steps, if one end of the run is known."""
    steps = _steps(clause)
    if word not in steps or len(steps) < 2:
        return None
    fraction = steps.index(word) / (len(steps) - 1)
    turned = _turned(prop, steps, clause)
    return None if turned is None else (1 - fraction if turned else fraction)


def _steps(clause: str) -> list[str]:
    run = re.search(r"\b([a-z]*)(\d+)\s*(?:=\s*[a-z-]+\s*)?(?:to|-|–)\s*[a-z]*(\d+)", clause)
    if run:
        first, last = int(run[2]), int(run[3])
        stride = 1 if last >= first else -1
        return [f"{run[1]}{number}" for number in range(first, last + stride, stride)]
    return [step.strip() for step in re.split(r",|\bto\b|\bor\b", clause) if step.strip()]


def _turned(prop: Property, steps: list[str], clause: str) -> bool | None:
    """Say whether the run starts at the end that is 1 on Halfpan's line."""
    good, bad = _ENDS[prop]
    for index, flip in ((0, False), (-1, True)):
        end = rf"(?<!\w){re.escape(steps[index])}(?!\w)\s*(?:=|is|are)?\s*(?:the\s+)?"
        if re.search(rf"{end}\w*\s*(?:{bad})", clause):
            return not flip
        if re.search(rf"{end}\w*\s*(?:{good})", clause):
            return flip
    first, last = WORDS[prop].get(steps[0]), WORDS[prop].get(steps[-1])
    if first is None or last is None or first == last:
        return None
    return first > last
