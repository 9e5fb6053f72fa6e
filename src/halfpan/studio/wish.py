"""The wish list: paints not owned yet, with why they are wished and what they are already covered by."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

from halfpan.collection import changes, paints, wishes
from halfpan.core.arranging.owned import own
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.codes import parse_codes
from halfpan.core.paint.paint import Label, Paint
from halfpan.errors import BadRequest
from halfpan.studio.add_paints import held_as
from halfpan.studio.find_paint import find_paint
from halfpan.studio.painted_paints import gather_painted
from halfpan.studio.studio import Studio

Way = Literal["same codes", "same pigment", "same look", "same name"]


@dataclass(frozen=True, slots=True)
class Cover:
    """An owned paint that may do for a wished one, and what the two share: a hint, not a verdict."""

    paint: Paint
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class Wish:
    """A wished paint, why, and the owned paints it is already covered by, as "do I own it?" answers."""

    paint: Paint
    why: str
    covered: tuple[Cover, ...]

    @property
    def same_codes(self) -> tuple[Paint, ...]:
        """The owned paints with the same codes."""
        return tuple(one.paint for one in self.covered if "same codes" in one.ways)


def list_wishes(studio: Studio) -> list[Wish]:
    """Return the wish list, oldest wish first."""
    with studio.look() as db:
        known = gather_painted(db)
        why = wishes.listed(db)
    owned = known.owned()
    return [
        Wish(one.paint, why.get(one.paint.id, ""), _covered(one, owned, known.repeat))
        for one in known.painted.values()
        if not one.paint.owned
    ]


def _covered(wished: Painted, owned: Sequence[Painted], repeat: Repeatability) -> tuple[Cover, ...]:
    """Return what covers a wish: by its codes where they are known, else by its name; by look too if read."""
    codes = " + ".join(wished.paint.codes)
    known = bool(codes) and all(code.canonical for code in parse_codes(codes))
    text = codes if known else wished.paint.name
    found = own(text, owned, repeat, like=wished if wished.swatch else None)
    ways: list[tuple[Way, Iterable[str]]] = [
        ("same codes", found.same_codes),
        ("same pigment", found.pigment_elsewhere),
        ("same look", (one.second for one in found.look)),
        ("same name", found.name),
    ]
    told: dict[str, list[Way]] = {}
    for way, held in ways:
        for paint in held:
            told.setdefault(paint, []).append(way)
    by_id = {one.paint.id: one.paint for one in owned if one.paint.id in told}
    return tuple(Cover(by_id[paint], tuple(some)) for paint, some in told.items())


def wish_for(studio: Studio, paint: Paint, why: str, *, now: datetime, who: str = "") -> Wish:
    """Put a paint on the wish list.

    Raises
    ------
    BadRequest
        When it has no name, or is owned already.
    """
    if not paint.name.strip():
        raise BadRequest("Say what is wished for: its name, and its codes if they are known.")
    with studio.transaction() as db:
        held = held_as(db, paint)
        if held is not None and held.owned:
            raise BadRequest(f"{held.name} is owned already, as {held.id}.")
        with changes.noted(db, f"wished for {paint.name}", now=now, who=who):
            number = held.id if held else paints.add_all(db, [replace(paint, owned=False)], now=now)[0]
            wishes.keep(db, number, why, now=now)
    with studio.look() as db:
        known = gather_painted(db)
    wished = known.painted[number]
    return Wish(wished.paint, why, _covered(wished, known.owned(), known.repeat))


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
