"""The wish list: paints not owned yet, with why they are wished and what is owned with the same pigments."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from halfpan.collection import changes, paints, wishes
from halfpan.core.paint.codes import parse_codes
from halfpan.core.paint.paint import Label, Paint
from halfpan.errors import BadRequest
from halfpan.studio.add_paints import held_as
from halfpan.studio.find_paint import find_paint
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Wish:
    """A wished paint, why, and owned paints made of the same pigments: a hint, not a verdict."""

    paint: Paint
    why: str
    same_codes: tuple[Paint, ...]


def list_wishes(studio: Studio) -> list[Wish]:
    """Return the wish list, oldest wish first."""
    with studio.look() as db:
        everything = paints.listed(db)
        why = wishes.listed(db)
    owned = [one for one in everything if one.owned]
    return [
        Wish(
            one, why.get(one.id, ""), tuple(p for p in owned if one.codes and set(p.codes) == set(one.codes))
        )
        for one in everything
        if not one.owned
    ]


def wish_for(studio: Studio, paint: Paint, why: str, *, now: datetime, who: str = "") -> Wish:
    """Put a paint on the wish list.

    Raises
    ------
    BadRequest
        When it is owned already.
    """
    with studio.transaction() as db:
        known = held_as(db, paint)
        if known is not None and known.owned:
            raise BadRequest(f"{known.name} is owned already, as {known.id}.")
        with changes.noted(db, f"wished for {paint.name}", now=now, who=who):
            number = known.id if known else paints.add_all(db, [replace(paint, owned=False)], now=now)[0]
            wishes.keep(db, number, why, now=now)
        owned = [one for one in paints.listed(db) if one.owned]
        (kept,) = paints.of_ids(db, [number])
        return Wish(kept, why, tuple(p for p in owned if kept.codes and set(p.codes) == set(kept.codes)))


def wish_by_label(
    studio: Studio,
    name: str,
    codes: str,
    *,
    maker: str = "",
    range_name: str = "",
    why: str = "",
    now: datetime,
) -> Wish:
    """Wish for a paint as its label would have it: codes are kept as printed and read as far as they can be.

    Raises
    ------
    BadRequest
        When it is owned already.
    """
    meant = tuple(code.canonical or code.as_written for code in parse_codes(codes))
    paint = Paint(id="", maker=maker, range=range_name, name=name, codes=meant, label=Label(name, codes))
    return wish_for(studio, paint, why, now=now)


def drop_wish(studio: Studio, text: str, *, now: datetime, who: str = "") -> Paint:
    """Take a paint off the wish list.

    Raises
    ------
    BadRequest
        When it is owned: then it is no wish.
    """
    with studio.transaction() as db:
        paint = find_paint(db, text)
        if paint.owned:
            raise BadRequest(f"{paint.name} is owned; it is not on the wish list.")
        with changes.noted(db, f"no longer wished for {paint.name}", now=now, who=who):
            paints.put_away(db, paint.id, now=now)
        return paint
