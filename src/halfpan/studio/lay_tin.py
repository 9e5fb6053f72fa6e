"""Lay out a tin as it is in the metal, list the tins, put pans in by hand, lock and move them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from halfpan.collection import changes, paints, tins
from halfpan.collection.tins import Held, KeptTin
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.tin import PAN_MM
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paint, find_paints
from halfpan.studio.studio import Studio


def new_tin(
    studio: Studio,
    name: str,
    rows: Sequence[str],
    *,
    now: datetime,
    sizes: Mapping[str, tuple[float, float]] = PAN_MM,
    gap_mm: float = 1.0,
    notes: str = "",
) -> KeptTin:
    """Add an empty tin and return it; ``rows`` are as in `tin_of_rows`.

    Raises
    ------
    BadRequest
        When it has no name, a name that is taken, or no seats that can be.
    """
    if not name.strip():
        raise BadRequest("A tin needs a name, such as “Field tin”.")
    with studio.transaction() as db, changes.noted(db, f"new tin {name}", now=now):
        number = tins.add(db, KeptTin(name, tuple(rows), sizes=dict(sizes), gap_mm=gap_mm, notes=notes))
        return tins.find(db, number)


def list_tins(studio: Studio) -> list[KeptTin]:
    """Return every tin with what it holds."""
    with studio.look() as db:
        return tins.listed(db)


def show_tin(studio: Studio, named: str) -> tuple[KeptTin, dict[str, Paint]]:
    """Return a tin and its paints by id."""
    with studio.look() as db:
        tin = tins.find(db, named)
        return tin, {one.id: one for one in paints.of_ids(db, list(tin.paints))}


def fill_tin(studio: Studio, named: str, texts: Sequence[str], *, now: datetime) -> KeptTin:
    """Put paints into the first free seats, in the order given, and return the tin.

    Raises
    ------
    BadRequest
        If there are more paints than free seats; nothing is put in then.
    """
    with studio.transaction() as db:
        tin = tins.find(db, named)
        new = [one.id for one in find_paints(db, texts) if one.id not in tin.paints]
        free = [
            seat.name for seat in tin.tin.seats if seat.size and tin.held.get(seat.name, Held()) == Held()
        ]
        if len(new) > len(free):
            raise BadRequest(f"{len(new)} paints and {len(free)} free seats in the tin “{tin.name}”.")
        held = {**tin.held, **{seat: Held(paint) for seat, paint in zip(free, new, strict=False)}}
        with changes.noted(db, f"filled the tin {tin.name}", now=now):
            tins.seat(db, tin.id, held)
        return tins.find(db, tin.id)


def move_pan(studio: Studio, named: str, start: str, end: str, *, now: datetime) -> KeptTin:
    """Move a pan to another seat, where it stays (locked); a pan sitting there comes back the other way."""
    with studio.transaction() as db:
        tin = tins.find(db, named)
        for seat in (start, end):
            found = tin.tin.seat(seat)
            if found is None or found.size is None:
                raise BadRequest(f"The tin “{tin.name}” has no seat {seat}.")
        moving, there = tin.held.get(start, Held()), tin.held.get(end, Held())
        if moving.paint is None:
            raise BadRequest(f"Seat {start} of the tin “{tin.name}” is empty.")
        held = {**tin.held, end: replace(moving, locked=True), start: replace(there, locked=False)}
        with changes.noted(db, f"moved a pan in the tin {tin.name} from {start} to {end}", now=now):
            tins.seat(db, tin.id, held)
        return tins.find(db, tin.id)


def take_out(studio: Studio, named: str, text: str, *, now: datetime) -> KeptTin:
    """Take a paint out of a tin; its seat is free then."""
    with studio.transaction() as db:
        tin = tins.find(db, named)
        paint = find_paint(db, text)
        if paint.id not in tin.paints:
            raise BadRequest(f"{paint.name} does not sit in the tin “{tin.name}”.")
        held = {seat: one for seat, one in tin.held.items() if one.paint != paint.id}
        with changes.noted(db, f"took {paint.name} out of the tin {tin.name}", now=now):
            tins.seat(db, tin.id, held)
        return tins.find(db, tin.id)


def lock_seats(studio: Studio, named: str, seats: Sequence[str], *, locked: bool, now: datetime) -> KeptTin:
    """Lock seats, so that whoever sits there stays and an empty one stays empty; or free them."""
    with studio.transaction() as db:
        tin = tins.find(db, named)
        held = dict(tin.held)
        for seat in seats:
            if tin.tin.seat(seat) is None:
                raise BadRequest(f"The tin “{tin.name}” has no seat {seat}.")
            held[seat] = replace(held.get(seat, Held()), locked=locked)
        word = "locked" if locked else "freed"
        with changes.noted(db, f"{word} {', '.join(seats)} in the tin {tin.name}", now=now):
            tins.seat(db, tin.id, held)
        return tins.find(db, tin.id)


def name_side(studio: Studio, named: str, side: str, *, now: datetime) -> KeptTin:
    """Give the side that a tin holds the painter's own word, or none."""
    with studio.transaction() as db:
        tin = tins.find(db, named)
        what = (
            f"called the side in the tin {tin.name} {side}"
            if side
            else f"named no side in the tin {tin.name}"
        )
        with changes.noted(db, what, now=now):
            tins.edit(db, replace(tin, side=side))
        return tins.find(db, tin.id)


def remove_tin(studio: Studio, named: str, *, now: datetime) -> KeptTin:
    """Take a tin apart; its paints stay in the collection."""
    with studio.transaction() as db:
        tin = tins.find(db, named)
        with changes.noted(db, f"took the tin {tin.name} apart", now=now):
            tins.remove(db, tin.id)
        return tin
