"""Labels to cut out: for the under side of a pan, and for a tube with a box for a dab of its paint."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from halfpan.core.chart.fit import fit, one_line, words_at
from halfpan.core.chart.ink import POINT, Fill, Frame, Ink, Measure, Rule
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.sheet import Rect

PAN_LABEL = (16.0, 10.0)
"""Width and height of a label for a half pan, mm; pans have no standard (common practice, from memory)."""

TUBE_LABEL = (44.0, 17.0)

INSIDE = 1.1
"""Bare edge of a label, mm."""


def butted(room: Rect, size: tuple[float, float], count: int) -> tuple[Rect, ...]:
    """Set as many labels as fit edge to edge, so that one cut serves two; row by row from the top left."""
    columns, rows = int((room.width + 1e-6) // size[0]), int((room.height + 1e-6) // size[1])
    places = [
        Rect(room.x + c * size[0], room.y + r * size[1], *size)
        for r, c in product(range(rows), range(columns))
    ]
    return tuple(places[:count])


def sheet_cuts(labels: Sequence[Rect], *, out: float = 3.0, clear: float = 0.8) -> tuple[Rule, ...]:
    """Return short lines round a block of butted labels, one for each cut."""
    if not labels:
        return ()
    left, top = min(r.x for r in labels), min(r.y for r in labels)
    right, low = max(r.right for r in labels), max(r.bottom for r in labels)
    across = sorted({round(x, 4) for r in labels for x in (r.x, r.right)})
    down = sorted({round(y, 4) for r in labels for y in (r.y, r.bottom)})
    upright = [(x, y) for x in across for y in (top - clear - out, low + clear)]
    level = [(x, y) for y in down for x in (left - clear - out, right + clear)]
    return (
        *(Rule(x, y, x, y + out, 0.3) for x, y in upright),
        *(Rule(x, y, x + out, y, 0.3) for x, y in level),
    )


def pan_label_ink(label: BoxLabel, room: Rect, measure: Measure) -> tuple[Ink, ...]:
    """Return name, codes and id of one paint for the under side of its pan."""
    wide = room.width - 2 * INSIDE
    name = fit(label.name, wide, measure=measure, face="serif bold", size=6.4, least=5.2)
    base = room.y + INSIDE + 0.75 * name.size * POINT
    foot = room.bottom - INSIDE - 0.4
    mark = measure(label.paint, "sans bold", 5.4)
    codes = one_line(
        " ".join(label.codes),
        room.x + INSIDE,
        foot,
        max(3.0, wide - mark - 0.8),
        measure=measure,
        face="sans",
        size=5.4,
    )
    own = one_line(
        label.paint,
        room.right - INSIDE,
        foot,
        wide - codes.width - 0.6,
        measure=measure,
        face="sans bold",
        size=5.4,
        to_right=True,
    )
    return (*words_at(name, room.x + INSIDE, base, measure=measure, face="serif bold"), codes, own)


def tube_label_ink(label: BoxLabel | None, room: Rect, measure: Measure) -> tuple[Ink, ...]:
    """Return name, codes, maker, a line for the day it was opened, and a box for a dab over a black line."""
    dab = Rect(room.right - INSIDE - 10.4, room.y + 2.0, 9.4, room.height - 4.0)
    line = Rect(dab.x - 0.7, dab.y + 2.4, dab.width + 1.4, 1.6)
    left, wide = room.x + INSIDE, dab.x - 2.2 - room.x - INSIDE
    foot = room.bottom - 2.0
    opened = one_line("opened", left, foot, 8, measure=measure, face="sans", size=5.6)
    ink: list[Ink] = [
        Frame(dab, gap=(line.y, line.bottom)),
        Fill((line,)),
        opened,
        Rule(left + opened.width + 0.8, foot + 0.3, left + 0.66 * wide, foot + 0.3),
    ]
    if label is None:
        return (*ink, Rule(left, room.y + 5.2, left + wide, room.y + 5.2))
    name = fit(label.name, wide, measure=measure, face="serif bold", size=8.0, least=6.4)
    base = room.y + 1.4 + 0.9 * name.size * POINT
    ink += words_at(name, left, base, measure=measure, face="serif bold")
    base += (len(name.lines) - 1) * name.leading
    owner = ", ".join(part for part in (label.maker, label.range) if part)
    both = [" · ".join(part for part in (" ".join(label.codes), owner) if part)]
    for text in both if len(name.lines) > 1 else [" ".join(label.codes), owner]:
        if text:
            base += 2.45
            ink.append(one_line(text, left, base, wide, measure=measure, face="sans", size=5.8))
    ink.append(
        one_line(
            label.paint,
            left + wide,
            foot,
            0.3 * wide,
            measure=measure,
            face="sans bold",
            size=6,
            to_right=True,
        )
    )
    return tuple(ink)
