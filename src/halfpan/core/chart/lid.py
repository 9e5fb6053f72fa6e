"""A lid card for a tin at true size: boxes in seat order, to paint or with the painter's own pictures."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from halfpan.core.chart.fit import fit, one_line, words_at
from halfpan.core.chart.ink import POINT, Fill, Frame, Ink, Measure, Picture, Rule
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.sheet import Box, Rect, Stroke
from halfpan.core.paint.tin import Seat, Tin
from halfpan.errors import BadLayout

EDGE = 3.5
"""Bare edge inside the cut, mm."""

HEAD, NAME, LINE, BETWEEN = 6.5, 6.2, 1.5, 1.2
"""Height of the title and of a name below its box, of the line, and room between two boxes, mm."""

LEAST_BOX = (6.0, 7.0)


def cut_marks(card: Rect, *, out: float = 4.0, clear: float = 1.0) -> tuple[Rule, ...]:
    """Return short lines outside the corners of a card, to cut by."""
    rules = []
    for x, way in ((card.x, -1), (card.right, 1)):
        for y, down in ((card.y, -1), (card.bottom, 1)):
            rules.append(Rule(x + way * clear, y, x + way * (clear + out), y, 0.3))
            rules.append(Rule(x, y + down * clear, x, y + down * (clear + out), 0.3))
    return tuple(rules)


def lid_card(
    tin: Tin,
    paints: Mapping[str, BoxLabel],
    card: Rect,
    *,
    measure: Measure,
    pictured: Collection[str] = (),
) -> tuple[tuple[Box, ...], tuple[Ink, ...]]:
    """Return the boxes and the drawing of one card.

    Parameters
    ----------
    tin : its seats give order and proportion
    paints : what sits where, by the name of the seat; a seat left out is empty
    card : where the card lies on the page, cut edge to cut edge
    measure : width of a text
    pictured : ids of paints whose own picture will be handed over when the page is drawn

    Raises
    ------
    BadLayout
        When a box would be too small to paint.
    """
    seats = [seat for seat in tin.seats if seat.size]
    across = (card.width - 2 * EDGE + BETWEEN) / tin.width_mm
    rows = sorted({seat.row for seat in seats})
    pitch = (card.height - 2 * EDGE - HEAD) / len(rows)
    ink: list[Ink] = [*cut_marks(card), *_head(tin, len(seats), paints, card, measure)]
    boxes: list[Box] = []
    for seat in seats:
        y = card.y + EDGE + HEAD + rows.index(seat.row) * pitch
        room = Rect(card.x + EDGE + seat.x * across, y, seat.width * across - BETWEEN, pitch - NAME)
        if room.width < LEAST_BOX[0] or room.height < LEAST_BOX[1]:
            raise BadLayout(
                f"A card of {card.width:g} x {card.height:g} mm is too small for {len(seats)} boxes: "
                "give the inside of the lid in mm, or print the card at twice the size."
            )
        label = paints.get(seat.name)
        boxes.append(_box(seat, label, room))
        ink += _box_ink(label, room, measure, pictured)
    return tuple(boxes), tuple(ink)


def _head(tin: Tin, seats: int, paints: Mapping[str, BoxLabel], card: Rect, measure: Measure) -> list[Ink]:
    base = card.y + EDGE + 3.6
    said = f"{sum(1 for seat in tin.seats if seat.name in paints)} of {seats} pans"
    wide = card.width - 2 * EDGE
    count = one_line(
        said, card.right - EDGE, base, 0.3 * wide, measure=measure, face="sans", size=6.2, to_right=True
    )
    name = one_line(tin.name, card.x + EDGE, base, 0.66 * wide, measure=measure, face="serif bold", size=10.5)
    return [name, count]


def _box(seat: Seat, label: BoxLabel | None, room: Rect) -> Box:
    full = Rect(room.x, room.y, room.width, 0.5 * room.height)
    graded = Rect(room.x, full.bottom, room.width, room.bottom - full.bottom)
    strokes = (Stroke(full, "full"), Stroke(graded, "graded", "down"))
    return Box(seat.name, label.paint if label else None, label.text if label else "", strokes, ())


def _box_ink(label: BoxLabel | None, room: Rect, measure: Measure, pictured: Collection[str]) -> list[Ink]:
    ink: list[Ink] = []
    line = Rect(room.x - 0.45, room.y + 0.16 * room.height, room.width + 0.9, LINE)
    if label and label.paint in pictured:
        ink.append(Picture(room, label.paint))
    else:
        ink += [Frame(room, gap=(line.y, line.bottom)), Fill((line,))]
    if label is None:
        return [*ink, Rule(room.x, room.bottom + 3.4, room.right, room.bottom + 3.4)]
    name = fit(label.name, room.width, measure=measure, face="serif bold", size=6.3, least=4.6, lines=2)
    base = room.bottom + 0.35 + 0.85 * name.size * POINT
    return [*ink, *words_at(name, room.x, base, measure=measure, face="serif bold")]
