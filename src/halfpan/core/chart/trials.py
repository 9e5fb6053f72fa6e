"""Rule a sheet of tests: for each paint lifting, a second coat, a ladder of water, three repeats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from halfpan.core.chart.box import number_ink
from halfpan.core.chart.fit import one_line
from halfpan.core.chart.furniture import Heading
from halfpan.core.chart.ink import ChartSheet, Frame, Ink, Measure, Rule
from halfpan.core.chart.label import BoxLabel, label_ink
from halfpan.core.chart.line import line_ink
from halfpan.core.chart.measures import CLEAR, Measures, measures_for
from halfpan.core.chart.page import compose
from halfpan.core.chart.sheet import Box, Chart, Rect, Sheet, Stroke, Zone
from halfpan.errors import BadLayout

Trial = Literal["lifting", "second coat", "water ladder", "repeats"]
TRIALS: tuple[Trial, ...] = ("lifting", "second coat", "water ladder", "repeats")
_SPAN: dict[Trial, int] = {"lifting": 1, "second coat": 1, "water ladder": 2, "repeats": 2}
_SHOWN: dict[Trial, str] = {
    "lifting": "Lifting",
    "second coat": "Second coat",
    "water ladder": "Water: half as much paint each step",
    "repeats": "Three times the same",
}
LADDER = (1.0, 0.5, 0.25, 0.125)
"""Share of full strength at each step."""

HOW_TO_TEST = (
    "All at full strength but the ladder. When dry: wet the right half of Lifting, count to ten, blot;",
    "paint the right half of Second coat again. Mix the paint afresh for each of the three.",
)


@dataclass(frozen=True, slots=True)
class _Seat:
    """One test of one paint, and where it stands on the pages."""

    label: BoxLabel
    trial: Trial
    page: int
    row: int
    column: int
    first: bool


def rule_test_chart(
    paints: Sequence[BoxLabel],
    *,
    sheet: Sheet,
    chart_id: str,
    measure: Measure,
    trials: Sequence[Trial] = TRIALS,
    title: str = "",
    margin_mm: float = 8.0,
    scale: float = 1.0,
) -> ChartSheet:
    """Rule a sheet of tests for some paints.

    Parameters
    ----------
    paints : the paints, in the order wanted
    trials : which tests, in the order wanted
    sheet, chart_id, measure, title, margin_mm, scale : as in ``rule_swatch_chart``

    Returns
    -------
    ChartSheet
        Kind ``tests``. Zones: ``wash`` and ``lifted``; ``one coat`` and ``two coats``; ``step 1`` to
        ``step 4`` (``load`` of their strokes says how strong); ``repeat 1`` to ``repeat 3``; ``bare`` and
        ``bare line``.

    Raises
    ------
    BadLayout
        When the sheet has no room for two boxes side by side.
    """
    m = measures_for(sheet, margin=margin_mm, scale=scale)
    if not trials:
        raise BadLayout("No test was asked for: name at least one of " + ", ".join(TRIALS) + ".")
    if m.columns < 2:
        raise BadLayout(f"Tests need a sheet wider than {sheet.width_mm:g} mm at this size.")
    total = sum(_SPAN[trial] for trial in trials)
    wide = m.columns // total * total if total <= m.columns else m.columns - m.columns % 2
    m = measures_for(sheet, margin=margin_mm, scale=scale, plan=(m.rows, wide))
    seats = _seats(paints, trials, m)
    count = seats[-1].page if seats else 1
    shown = title or "Tests"
    ruled = []
    for number in range(1, count + 1):
        here = [(k, seat) for k, seat in enumerate(seats, 1) if seat.page == number]
        boxes = [_box(str(k), seat, m) for k, seat in here]
        ink: list[Ink] = [
            part for row in sorted({s.row for _, s in here}) for part in line_ink(row, m, hand=False)
        ]
        for box, (_, seat) in zip(boxes, here, strict=True):
            ink += _box_ink(box, seat, m, measure)
        tested = len({seat.label.paint for _, seat in here})
        said = f"{tested} paint{'' if tested == 1 else 's'}"
        heading = Heading(shown, chart_id, number, count, said, how=HOW_TO_TEST)
        ruled.append(compose(boxes, ink, heading=heading, m=m, measure=measure))
    extra = {"title": title} if title else {}
    chart = Chart(chart_id, "tests", sheet, tuple(page for page, _ in ruled), extra)
    return ChartSheet(chart, tuple(ink for _, ink in ruled), shown)


def _seats(paints: Sequence[BoxLabel], trials: Sequence[Trial], m: Measures) -> list[_Seat]:
    """Set tests one after the other; each paint starts a row and is not cut by a page if it fits on one."""
    total = sum(_SPAN[trial] for trial in trials)
    beside = max(1, m.columns // total)  # paints side by side
    own = _flow(trials, m.columns)
    needed = own[-1][1] + 1
    seats: list[_Seat] = []
    row = 0
    for number, label in enumerate(paints):
        place = number % beside
        if number and place == 0:
            row += needed
        if needed <= m.rows and row % m.rows + needed > m.rows:
            row += m.rows - row % m.rows
        for k, (trial, down, column) in enumerate(own):
            page, at = divmod(row + down, m.rows)
            seats.append(_Seat(label, trial, page + 1, at, column + place * total, k == 0))
    return seats


def _flow(trials: Sequence[Trial], columns: int) -> list[tuple[Trial, int, int]]:
    placed = []
    row = column = 0
    for trial in trials:
        if column + _SPAN[trial] > columns:
            row, column = row + 1, 0
        placed.append((trial, row, column))
        column += _SPAN[trial]
    return placed


def _box(name: str, seat: _Seat, m: Measures) -> Box:
    x, y = m.box_left(seat.column), m.row_top(seat.row) + m.family
    wide = _SPAN[seat.trial] * (m.box + m.gap) - m.gap
    whole = Rect(x, y, wide, m.height)
    under = y + m.above_line + m.line
    strokes, names = _strokes(seat.trial, whole)
    areas = _parts(seat.trial, whole)
    zones = [
        Zone(
            zone, Rect(a.x + CLEAR, under + CLEAR, a.width - 2 * CLEAR, a.bottom - under - 2 * CLEAR), "paper"
        )
        for zone, a in zip(names, areas, strict=True)
    ]
    beside = whole.right + CLEAR
    zones.append(Zone("bare", Rect(beside, under + CLEAR, m.bare, whole.bottom - under - CLEAR), "paper"))
    line = Rect(beside, y + m.above_line + CLEAR, m.bare, m.line - 2 * CLEAR)
    zones.append(Zone("bare line", line, "black"))
    return Box(name, seat.label.paint, f"{seat.label.text} · {seat.trial}", strokes, tuple(zones))


def _parts(trial: Trial, whole: Rect) -> list[Rect]:
    """Cut a box into two halves, or into separate strokes with bare paper between."""
    count = {"water ladder": len(LADDER), "repeats": 3}.get(trial, 2)
    gap = 0.0 if count == 2 else 5.2
    wide = (whole.width - (count - 1) * gap) / count
    return [Rect(whole.x + k * (wide + gap), whole.y, wide, whole.height) for k in range(count)]


def _strokes(trial: Trial, whole: Rect) -> tuple[tuple[Stroke, ...], tuple[str, ...]]:
    """Return where a test is painted, and the names of its zones from left to right."""
    parts = _parts(trial, whole)
    if trial == "lifting":
        return (Stroke(whole, "full"),), ("wash", "lifted")
    if trial == "second coat":
        return (Stroke(whole, "full"), Stroke(parts[1], "full")), ("one coat", "two coats")
    if trial == "water ladder":
        strokes = tuple(Stroke(p, "full", load=load) for p, load in zip(parts, LADDER, strict=True))
        return strokes, tuple(f"step {k + 1}" for k in range(len(LADDER)))
    return tuple(Stroke(p, "full") for p in parts), tuple(f"repeat {k + 1}" for k in range(3))


def _box_ink(box: Box, seat: _Seat, m: Measures, measure: Measure) -> list[Ink]:
    x, y = m.box_left(seat.column), m.row_top(seat.row) + m.family
    line = y + m.above_line
    wide = _SPAN[seat.trial] * (m.box + m.gap) - m.gap
    whole = Rect(x, y, wide, m.height)
    areas = _parts(seat.trial, whole)
    separate = len(areas) > 2
    frames = areas if separate else [whole]
    ink: list[Ink] = [Frame(area, gap=(line, line + m.line)) for area in frames]
    if not separate:
        middle = areas[1].x
        ink += [
            Rule(middle, y, middle, y + 1.2, 0.6),
            Rule(middle, whole.bottom - 1.2, middle, whole.bottom, 0.6),
        ]
    ink.append(number_ink(box.box, x, line, m, measure, hand=False))
    shown = one_line(
        _SHOWN[seat.trial], x, y - 1.15 * m.type, wide, measure=measure, face="serif", size=8.4 * m.type
    )
    ink.append(shown)
    top = whole.bottom + 1.2 * m.type
    if seat.first:
        return [*ink, *label_ink(seat.label, x=x, top=top, m=m, measure=measure)]
    ink.append(Rule(x, top + m.label - 1.9 * m.type, x + wide, top + m.label - 1.9 * m.type))
    if seat.trial == "water ladder":
        ink += [
            one_line(
                text, area.x, top + 2.6 * m.type, area.width, measure=measure, face="sans", size=6.4 * m.type
            )
            for text, area in zip(("full", "half", "quarter", "eighth"), areas, strict=True)
        ]
    return ink
