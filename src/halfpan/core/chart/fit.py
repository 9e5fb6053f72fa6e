"""Fit words into a width: one line first, smaller, then more lines, at last through the middle of a word."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from halfpan.core.chart.ink import POINT, Face, Measure, Words

LEADING = 1.08
"""From base line to base line of a wrapped name, in ems."""

_SECOND_LINE = 0.08
_SMALLEST = 2.0


@dataclass(frozen=True, slots=True)
class Setting:
    """Lines of text that fit, and the size in points they fit at."""

    lines: tuple[str, ...]
    size: float

    @property
    def leading(self) -> float:
        """Distance of the base lines, in mm."""
        return LEADING * self.size * POINT


def fit(
    text: str, width: float, *, measure: Measure, face: Face, size: float, least: float, lines: int = 2
) -> Setting:
    """Return the largest setting of a text in a width.

    Parameters
    ----------
    text : the words
    width : room in mm
    measure : width of a text
    face : of the letters
    size, least : wished and smallest welcome size, points
    lines : most lines; a further line is worth 8 % of the size

    Notes
    -----
    Below ``least`` words are broken, and only then set smaller still: they never reach past ``width``.
    """
    clean = " ".join(text.split())
    if not clean:
        return Setting((), size)
    whole = [_at_size(part, width, measure, face, size) for part in _splits(clean, lines)]
    best = max(whole, key=_worth)
    if best.size >= least or (lines == 1 and " " not in clean and best.size >= 0.7 * least):
        return best
    broken = [_at_size(part, width, measure, face, size) for part in _breaks(clean, lines)]
    return max([best, *broken], key=lambda s: (min(s.size, least), -len(s.lines)))


def _worth(setting: Setting) -> tuple[float, bool, float]:
    """Prefer the larger, then a line that ends at a comma, then lines of about one length."""
    lengths = [len(line) for line in setting.lines]
    worth = setting.size * (1 - _SECOND_LINE * (len(lengths) - 1))
    return worth, setting.lines[0].endswith(","), min(lengths) - max(lengths)


def _at_size(lines: tuple[str, ...], width: float, measure: Measure, face: Face, size: float) -> Setting:
    """Set lines at the wished size, or as much smaller as the longest needs."""
    longest = max(measure(line, face, size) for line in lines)
    if longest <= width:
        return Setting(lines, size)
    fitting = max(_SMALLEST, int(size * width / longest * 20) / 20)
    while fitting > 0.2 and max(measure(line, face, fitting) for line in lines) > width:
        fitting -= 0.05 if fitting > _SMALLEST else 0.1
    return Setting(lines, round(fitting, 3))


def _splits(text: str, lines: int) -> list[tuple[str, ...]]:
    """Every way to break a text between words into at most so many lines (three at most, evenly)."""
    words = text.split(" ")
    ways: list[tuple[str, ...]] = [(text,)]
    if lines >= 2:
        ways += [(" ".join(words[:k]), " ".join(words[k:])) for k in range(1, len(words))]
    if lines >= 3:
        cuts = [(i, j) for i in range(1, len(words)) for j in range(i + 1, len(words))][:400]
        ways += [(" ".join(words[:i]), " ".join(words[i:j]), " ".join(words[j:])) for i, j in cuts]
    return ways


def _breaks(text: str, lines: int) -> list[tuple[str, ...]]:
    """Ways to cut a text anywhere into so many lines of about one length, a hyphen where a word is cut."""
    ways = []
    for count in range(2, lines + 1):
        ends = [round(k * len(text) / count) for k in range(count + 1)]
        parts = [text[a:b] for a, b in pairwise(ends)]
        if all(part.strip() for part in parts):
            cut = [
                part.strip() + ("-" if part[-1:].isalpha() and after[:1].isalpha() else "")
                for part, after in zip(parts, [*parts[1:], ""], strict=True)
            ]
            ways.append(tuple(cut))
    return ways


def words_at(
    setting: Setting, x: float, y: float, *, measure: Measure, face: Face, leading: float | None = None
) -> tuple[Words, ...]:
    """Place a setting with its first base line at ``y`` and its left edge at ``x``."""
    step = leading if leading is not None else setting.leading
    return tuple(
        Words(x, y + k * step, line, face, setting.size, measure(line, face, setting.size))
        for k, line in enumerate(setting.lines)
    )


def one_line(
    text: str,
    x: float,
    y: float,
    width: float,
    *,
    measure: Measure,
    face: Face,
    size: float,
    to_right: bool = False,
    white: bool = False,
) -> Words:
    """Place one line that shrinks to its room; ``to_right`` sets it against ``x`` as its right edge."""
    clean = " ".join(text.split())
    setting = _at_size((clean,), width, measure, face, size)
    long = measure(clean, face, setting.size)
    return Words(x - long if to_right else x, y, clean, face, setting.size, long, white)
