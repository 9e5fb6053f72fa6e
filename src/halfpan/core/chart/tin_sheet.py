"""Put a lid card, pan labels and tube labels of one tin on a sheet to print and cut. Not read by machine."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from halfpan.core.chart.fit import one_line
from halfpan.core.chart.ink import ChartSheet, Ink, Measure, Rule, inked
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.lid import lid_card
from halfpan.core.chart.sheet import Box, Chart, Page, Rect, Sheet
from halfpan.core.chart.stickers import (
    PAN_LABEL,
    TUBE_LABEL,
    butted,
    pan_label_ink,
    sheet_cuts,
    tube_label_ink,
)
from halfpan.core.paint.tin import Tin
from halfpan.errors import BadLayout

CARD = (118.0, 96.0)
"""Width and height of the inside of a lid, mm: an example; measure your own."""

CARD_RECT = "card_rect_mm"
"""Under which name the document of a lid card says where the card lies on the first page."""

HEAD, SECTION, CUTS = 13.0, 8.0, 6.0
"""Height of the page's heading and of a section's, and room for cutting lines, mm."""


def rule_tin_sheet(
    tin: Tin,
    paints: Mapping[str, BoxLabel],
    *,
    sheet: Sheet,
    chart_id: str,
    measure: Measure,
    card_mm: tuple[float, float] = CARD,
    pictured: Collection[str] = (),
    labels: bool = True,
    margin_mm: float = 10.0,
) -> ChartSheet:
    """Rule the lid card of a tin at true size, and labels for its pans and tubes.

    Parameters
    ----------
    tin, paints : the tin, and what sits in each seat by the seat's name
    sheet : the paper to print on
    chart_id : an id for the sheet
    measure : width of a text
    card_mm : inside of the lid
    pictured : ids of paints whose own picture will be handed over when the page is drawn; others are to paint
    labels : print pan labels and tube labels too
    margin_mm : bare edge the printer needs

    Raises
    ------
    BadLayout
        When the card does not fit on the sheet, or its boxes would be too small.
    """
    area = Rect(margin_mm + 4, margin_mm, sheet.width_mm - 2 * margin_mm - 8, sheet.height_mm - 2 * margin_mm)
    card = Rect(area.x, area.y + HEAD + CUTS, *card_mm)
    if card.right > area.right or card.bottom > area.bottom:
        raise BadLayout(
            f"A card of {card_mm[0]:g} x {card_mm[1]:g} mm does not fit on {sheet.width_mm:g} x "
            f"{sheet.height_mm:g} mm: take a larger sheet."
        )
    boxes, ink = lid_card(tin, paints, card, measure=measure, pictured=pictured)
    all_pictured = {label.paint for label in paints.values()} <= {*pictured}
    first = [*_heading(tin, area, measure, pictured=all_pictured), *ink]
    pages: list[tuple[tuple[Box, ...], list[Ink]]] = [(boxes, first)]
    if labels:
        seated = [paints[seat.name] for seat in tin.seats if seat.name in paints]
        _add_labels(pages, seated, area, card.bottom + CUTS, measure)
    chart = Chart(
        chart_id,
        "lid card",
        sheet,
        tuple(Page(k, (), own, inked(tuple(drawn))) for k, (own, drawn) in enumerate(pages, 1)),
        {"title": tin.name, CARD_RECT: [card.x, card.y, card.width, card.height]},
    )
    return ChartSheet(chart, tuple(tuple(drawn) for _, drawn in pages), tin.name)


PICTURED = "then cut. A printer's ink is not your paint: look at the boxes you painted."


def _heading(tin: Tin, area: Rect, measure: Measure, *, pictured: bool) -> list[Ink]:
    base = area.y + 5.4
    bar = Rect(area.right - 100, area.y + 4.0, 100, 0)
    room = bar.x - 4 - area.x
    ticks: list[Ink] = [
        Rule(bar.x + 10 * k, bar.y - (2.0 if k % 5 == 0 else 1.1), bar.x + 10 * k, bar.y, 0.4)
        for k in range(11)
    ]
    to_paint = "in ink that stands water. Paint over the line, strong at the top, then cut."
    words = f"100 mm. Print at 100 %, {PICTURED if pictured else to_paint}"
    return [
        one_line(tin.name, area.x, base, room, measure=measure, face="serif bold", size=15),
        Rule(bar.x, bar.y, bar.right, bar.y, 0.6),
        *ticks,
        one_line(words, bar.x, bar.y + 3.2, 100, measure=measure, face="sans", size=6.4),
    ]


def _add_labels(
    pages: list[tuple[tuple[Box, ...], list[Ink]]],
    seated: Sequence[BoxLabel],
    area: Rect,
    top: float,
    measure: Measure,
) -> None:
    """Fill the rest of the page, and further pages, with pan labels and then tube labels."""
    sections = (
        (f"For half pans, {PAN_LABEL[0]:g} × {PAN_LABEL[1]:g} mm", PAN_LABEL, pan_label_ink),
        (
            f"For tubes, {TUBE_LABEL[0]:g} × {TUBE_LABEL[1]:g} mm, a dab in the box",
            TUBE_LABEL,
            tube_label_ink,
        ),
    )
    for words, size, drawn in sections:
        left = list(seated)
        while left:
            room = Rect(area.x, top + SECTION, area.width, area.bottom - CUTS - top - SECTION)
            places = butted(room, size, len(left))
            if not places:
                pages.append(((), []))
                top = area.y
                continue
            ink = pages[-1][1]
            ink.append(
                one_line(words, area.x, top + 3.0, area.width, measure=measure, face="serif", size=9.4)
            )
            ink += sheet_cuts(places)
            for label, place in zip(left, places, strict=False):
                ink += drawn(label, place, measure)
            left = left[len(places) :]
            top = places[-1].bottom + CUTS + 1.0
