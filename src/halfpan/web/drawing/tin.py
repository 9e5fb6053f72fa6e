"""A tin as it lies open, in SVG: seats where they are in the metal, the painter's own paint in each pan."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from halfpan.collection.tins import Held
from halfpan.core.paint.tin import Seat
from halfpan.files.words import say
from halfpan.studio.see_tin import TinSeen
from halfpan.web.frame import crop_url

UNIT = 5.0
"""Units of the drawing to a millimetre: a tin is drawn five pixels to the millimetre where there is room."""

NAMES_MM, EDGE_MM = 8.0, 4.0
"""Room below each row for names, and metal around the seats."""

WINDOW = "14 106 184 194"
"""The part of a wall crop that is paint alone: clear of the black line and of the bare paper's edge."""


@dataclass(frozen=True, slots=True)
class TinDrawing:
    """The seats as SVG, the size of the whole tin in units, and how wide it is shown where there is room."""

    seats: Markup
    width: float
    height: float

    @property
    def shown(self) -> float:
        """Pixels across: small tins half as large again, large ones no wider than a page."""
        return min(self.width * 1.5, max(self.width, 860.0))


def draw_seats(seen: TinSeen, *, still: bool = False) -> TinDrawing:
    """Return a tin's seats; ``still`` for a picture that is only looked at."""
    layout = seen.tin.tin
    rows = 1 + max(seat.row for seat in layout.seats)
    parts = [_seat(seen, seat, still=still) for seat in layout.seats if seat.size is not None]
    return TinDrawing(
        Markup("").join(parts),
        (layout.width_mm + 2 * EDGE_MM) * UNIT,
        (layout.height_mm + rows * NAMES_MM + 2 * EDGE_MM) * UNIT,
    )


def seat_words(seen: TinSeen, seat: Seat) -> str:
    """Say a seat aloud: who sits there, whether it is locked, and where it is."""
    held = seen.tin.held.get(seat.name, Held())
    paint = seen.paints.get(held.paint or "")
    words = say("tins.seat_label", seat=seat.name, who=paint.name if paint else say("tins.empty"))
    return f"{words}, {say('tins.locked')}" if held.locked else words


def _seat(seen: TinSeen, seat: Seat, *, still: bool) -> Markup:
    held = seen.tin.held.get(seat.name, Held())
    paint = seen.paints.get(held.paint or "")
    x, y = (seat.x + EDGE_MM) * UNIT, (seat.y + EDGE_MM + seat.row * NAMES_MM) * UNIT
    width, height = seat.width * UNIT, seat.height * UNIT
    marks = (
        Markup("")
        if still
        else Markup(
            ' class="seat{}{}" role="img" aria-label="{}" data-seat="{}" data-row="{}"'
            ' data-paint="{}" data-name="{}"'
        ).format(
            "" if paint else " free",
            " locked" if held.locked else "",
            seat_words(seen, seat),
            seat.name,
            seat.row,
            held.paint or "",
            paint.name if paint else "",
        )
    )
    return Markup('<g{} transform="translate({:.1f} {:.1f})">{}</g>').format(
        marks, x, y, _pan(seen, held, width, height)
    )


def _pan(seen: TinSeen, held: Held, width: float, height: float) -> Markup:
    paint = seen.paints.get(held.paint or "")
    well = Markup('<rect class="{}" width="{:.1f}" height="{:.1f}" rx="5"/>')
    if paint is None:
        return well.format("well none", width, height)
    box = seen.boxes.get(paint.id)
    inside = _crop(crop_url(box), width, height) if box else _codes(paint.codes, height)
    name = Markup(
        '<foreignObject x="-4" y="{:.1f}" width="{:.1f}" height="{:.1f}"><div class="pan-name">{}</div>'
        "</foreignObject>"
    ).format(height + 3, width + 8, NAMES_MM * UNIT - 4, paint.name)
    lock = Markup('<path class="lock" d="M{:.1f} 3h12v5h-12z"/>').format(width / 2 - 6)
    return well.format("well", width, height) + inside + name + (lock if held.locked else Markup(""))


def _crop(url: str, width: float, height: float) -> Markup:
    return Markup(
        '<svg x="4" y="4" width="{:.1f}" height="{:.1f}" viewBox="{}" preserveAspectRatio="xMidYMid slice">'
        '<image href="{}" width="212" height="318" preserveAspectRatio="none"/></svg>'
    ).format(width - 8, height - 8, WINDOW, url)


def _codes(codes: tuple[str, ...], height: float) -> Markup:
    return Markup('<text class="codes" x="7" y="{:.1f}">{}</text>').format(height / 2, " ".join(codes[:2]))
