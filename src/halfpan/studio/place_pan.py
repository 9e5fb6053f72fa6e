"""Put a paint from the table into one seat of a tin; whoever sat there goes back to the table."""

from __future__ import annotations

from datetime import datetime

from halfpan.collection import changes, tins
from halfpan.collection.tins import Held, KeptTin
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio


def place_pan(studio: Studio, named: str, text: str, seat: str, *, now: datetime) -> KeptTin:
    """Put a paint into a seat and return the tin.

    Raises
    ------
    BadRequest
        When there is no such seat, the paint sits in the tin already, or the seat is locked.
    UnknownPaint
    """
    with studio.transaction() as db:
        tin = tins.find(db, named)
        paint = find_paint(db, text)
        found = tin.tin.seat(seat)
        if found is None or found.size is None:
            raise BadRequest(f"The tin “{tin.name}” has no seat {seat}.")
        if paint.id in tin.paints:
            raise BadRequest(f"{paint.name} sits in the tin “{tin.name}” already; move it instead.")
        if tin.held.get(seat, Held()).locked:
            raise BadRequest(f"Seat {seat} of the tin “{tin.name}” is locked; free it first.")
        with changes.noted(db, f"put {paint.name} into seat {seat} of the tin {tin.name}", now=now):
            tins.seat(db, tin.id, {**tin.held, seat: Held(paint.id)})
        return tins.find(db, tin.id)
