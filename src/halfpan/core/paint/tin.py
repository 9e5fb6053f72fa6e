"""A tin as it is in the metal: rows of seats for pans, in millimetres, some of them blank.

No standard gives the size of a pan, so sizes are a value with stated defaults. Origin at the top left of
the tin's inside, x across, y down, in mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from halfpan.errors import BadRequest

PanSize = Literal["full", "half", "quarter"]

#: Outer width and height of a pan lying in a row, mm. From memory: makers differ, so measure your own.
PAN_MM: Mapping[str, tuple[float, float]] = {
    "full": (30.0, 19.0),
    "half": (16.0, 19.0),
    "quarter": (16.0, 9.5),
}

MOST_SEATS = 600

_LETTERS: Mapping[str, PanSize | None] = {"f": "full", "h": "half", "q": "quarter", "-": None}


@dataclass(frozen=True, slots=True)
class Seat:
    """A place for one pan. A blank (size None) takes no pan: a divider, a brush rest, a lost clip."""

    name: str
    row: int
    size: PanSize | None
    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Tin:
    """A tin: its name and its seats, row by row from the top left."""

    name: str
    seats: tuple[Seat, ...]
    sizes: Mapping[str, tuple[float, float]] = field(default_factory=lambda: dict(PAN_MM))

    @property
    def width_mm(self) -> float:
        """Inside width of the widest row."""
        return max((seat.x + seat.width for seat in self.seats), default=0.0)

    @property
    def height_mm(self) -> float:
        """Inside height over all rows."""
        return max((seat.y + seat.height for seat in self.seats), default=0.0)

    def seat(self, name: str) -> Seat | None:
        """Return the seat of that name, or none."""
        return next((seat for seat in self.seats if seat.name == name), None)


def row_letter(row: int) -> str:
    """Return A, B ... Z, AA ... for row 0, 1 ..."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def tin_of_rows(
    name: str,
    rows: Sequence[str],
    *,
    sizes: Mapping[str, tuple[float, float]] = PAN_MM,
    gap_mm: float = 1.0,
) -> Tin:
    """Lay out a tin from its rows.

    Parameters
    ----------
    name
        What the painter calls the tin.
    rows
        One text a row, a letter a seat: ``f`` full pan, ``h`` half pan, ``q`` quarter pan, ``-`` a blank the
        width of a half pan; ``6h`` is short for ``hhhhhh``. Rows may differ in length.
    sizes
        Width and height of each pan, mm.
    gap_mm
        Metal between seats and between rows.

    Raises
    ------
    BadRequest
        If a row holds another letter, the tin has no seat or too many, or a length is none.
    """
    for pan, mm in sizes.items():
        if not (min(mm) > 0 and gap_mm >= 0):
            raise BadRequest(
                f"A {pan} pan of {mm[0]:g} x {mm[1]:g} mm with {gap_mm:g} mm between cannot be; "
                "measure across and down, such as 16x19."
            )
    seats: list[Seat] = []
    y = 0.0
    for r, row in enumerate(rows):
        x, tallest = 0.0, 0.0
        letters = _spelt_out(row)
        if len(seats) + len(letters) > MOST_SEATS:
            raise BadRequest(
                f"A tin holds up to {MOST_SEATS} seats here; lay out a larger one as several tins."
            )
        for place, letter in enumerate(letters, start=1):
            if letter not in _LETTERS:
                raise BadRequest(
                    f"Row {r + 1} of the tin holds {letter!r}: use f (full), h (half), q (quarter), - (none)."
                )
            size = _LETTERS[letter]
            width, height = sizes[size or "half"]
            seats.append(Seat(f"{row_letter(r)}{place}", r, size, x, y, width, height))
            x += width + gap_mm
            tallest = max(tallest, height)
        y += tallest + gap_mm
    if not any(seat.size for seat in seats):
        raise BadRequest(f"The tin {name!r} has no seat: give its rows as text such as 6h or fhhf.")
    return Tin(name, tuple(seats), dict(sizes))


def _spelt_out(row: str) -> str:
    letters, number = "", ""
    for sign in row.replace(" ", "").replace(",", "").lower():
        if sign.isdigit():
            number += sign
        else:
            letters += sign * min(int(number or 1), MOST_SEATS + 1)
            number = ""
    return letters + number
