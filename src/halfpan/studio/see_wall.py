"""The wall: every paint in order, with the box that shows it and what can be asked of it by each witness."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import Literal, get_args

from halfpan.collection import orders, paints, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.arranging.order import FAMILIES, Family, OrderRule, Placed, places
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.paint import Label, Paint
from halfpan.core.paint.scales import PROPERTIES, Property
from halfpan.core.paint.witness import Said, Witness, answers, label_says, literature_says
from halfpan.studio.list_paints import answering
from halfpan.studio.painted_paints import joined
from halfpan.studio.studio import Studio

Quality = Literal[
    "transparent",
    "opaque",
    "granulating",
    "staining",
    "held in light",
    "doubtful in light",
    "single pigment",
]
QUALITIES: tuple[Quality, ...] = get_args(Quality)
Sorting = Literal["families", "mine", "name", "maker", "newest"]
ORDERINGS: tuple[Sorting, ...] = get_args(Sorting)

_OPAQUE_FROM = 2 / 3 - 0.02


@dataclass(frozen=True, slots=True)
class WallPaint:
    """One place on the wall.

    ``box`` is the swatch that counts, or the latest that waits for review; none for a paint not painted yet.
    ``painted`` is the paint with the swatch that counts, as questions of likeness are asked of it.
    """

    paint: Paint
    placed: Placed
    box: KeptSwatch | None
    qualities: Mapping[Witness, frozenset[Quality]]
    painted: Painted

    @property
    def family(self) -> Family:
        """The family it stands in."""
        return self.placed.family

    @property
    def doubtful(self) -> bool:
        """Whether its box was read and nobody has looked at the reading yet."""
        return self.box is not None and self.box.state != "accepted"


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What is left of a wall after filtering.

    ``counts`` says how many paints each quality would leave; ``nearest`` is the one filter whose absence
    would leave most, with how many, when nothing is left.
    """

    shown: tuple[WallPaint, ...]
    counts: Mapping[Quality, int]
    nearest: tuple[Quality, int] | None = None


def see_wall(studio: Studio, before: Iterable[WallPaint] = ()) -> tuple[WallPaint, ...]:
    """Return the paints that are owned, family by family in the proposed order.

    Parameters
    ----------
    before : iterable of WallPaint, optional
        The wall as it was seen before; of paints of which nothing changed the same value is returned again.
    """
    with studio.look() as db:
        counting = swatches.counting(db)
        waiting = {one.swatch.paint: one for one in swatches.listed(db, state="to review")}
        owned = joined(db, [one for one in paints.listed(db) if one.owned], counting)
    boxes = {one.paint.id: counting.get(one.paint.id) or waiting.get(one.paint.id) for one in owned}
    held = {one.paint.id: one for one in before}
    new = [one for one in owned if not _same(held.get(one.paint.id), one, boxes[one.paint.id])]
    told = [
        _told(one, placed, boxes[one.paint.id])
        for one, placed in zip(new, places(new, OrderRule()), strict=True)
    ]
    held |= {one.paint.id: one for one in told}
    wall = [held[one.paint.id] for one in owned]
    return tuple(sorted(wall, key=lambda one: (*one.placed.key, one.paint.id)))


def _same(before: WallPaint | None, now: Painted, box: KeptSwatch | None) -> bool:
    """Say whether nothing changed: what is remembered of a paint and its box is the very same value then."""
    if before is None:
        return False
    return before.paint is now.paint and before.box is box and before.painted.seen == now.seen


def sort_wall(studio: Studio, wall: Sequence[WallPaint], sorting: Sorting) -> tuple[WallPaint, ...]:
    """Return the wall in another order; paints that the painter's own order does not name come last."""
    if sorting == "families":
        return tuple(wall)
    if sorting == "mine":
        with studio.look() as db:
            at = {paint: place for place, paint in enumerate(orders.find(db))}
        return tuple(sorted(wall, key=lambda one: at.get(one.paint.id, len(at))))
    if sorting == "newest":
        return tuple(sorted(wall, key=lambda one: -int(one.paint.id[1:])))
    if sorting == "maker":
        return tuple(sorted(wall, key=lambda one: (one.paint.maker, one.paint.range, one.paint.name)))
    return tuple(sorted(wall, key=lambda one: (one.paint.name.casefold(), one.paint.maker)))


def in_families(wall: Sequence[WallPaint]) -> list[tuple[Family, list[WallPaint]]]:
    """Return the paints of each family that has any, families in their order."""
    held: dict[Family, list[WallPaint]] = {family: [] for family in FAMILIES}
    for one in wall:
        held[one.family].append(one)
    return [(family, some) for family, some in held.items() if some]


def narrow_wall(
    wall: Sequence[WallPaint],
    *,
    words: str = "",
    only: frozenset[Quality] = frozenset(),
    by: Witness = "proof",
) -> Narrowed:
    """Return the paints that answer to the words and have all the qualities, as one witness tells it."""
    found = {one.id for one in answering([one.paint for one in wall], words)}
    named = [one for one in wall if one.paint.id in found]
    shown = tuple(one for one in named if only <= one.qualities[by])
    counts: dict[Quality, int] = {
        quality: sum((only | {quality}) <= one.qualities[by] for one in named) for quality in QUALITIES
    }
    without: list[tuple[Quality, int]] = [
        (quality, sum((only - {quality}) <= one.qualities[by] for one in named)) for quality in only
    ]
    nearest = max(without, key=lambda pair: pair[1], default=None)
    return Narrowed(shown, counts, nearest if not shown and nearest and nearest[1] else None)


def _told(painted: Painted, placed: Placed, box: KeptSwatch | None) -> WallPaint:
    paint, label = painted.paint, painted.paint.label
    ratings = Label("", "", label.lightfastness, label.transparency, label.granulation, label.staining)
    qualities = _by_witness(
        _printed(ratings, label.scales),
        _published(paint.codes),
        _qualities(painted.proof()),
        single=len(paint.codes) == 1,
    )
    return WallPaint(paint, placed, box, qualities, painted)


@lru_cache(maxsize=4096)
def _by_witness(
    label: frozenset[Quality], literature: frozenset[Quality], proof: frozenset[Quality], *, single: bool
) -> Mapping[Witness, frozenset[Quality]]:
    told: dict[Witness, frozenset[Quality]] = {"label": label, "literature": literature, "proof": proof}
    codes: frozenset[Quality] = frozenset({"single pigment"}) if single else frozenset()
    return MappingProxyType({witness: said | codes for witness, said in told.items()})


@lru_cache(maxsize=4096)
def _printed(ratings: Label, scales: str) -> frozenset[Quality]:
    paint = Paint("", "", "", "", label=replace(ratings, scales=scales))
    return _qualities({prop: label_says(paint, prop) for prop in PROPERTIES})


@lru_cache(maxsize=4096)
def _published(codes: tuple[str, ...]) -> frozenset[Quality]:
    return _qualities({prop: literature_says(codes, prop) for prop in PROPERTIES})


def _qualities(said: Mapping[Property, Said | None]) -> frozenset[Quality]:
    found: set[Quality] = set()
    veil = said.get("transparency")
    if answers("transparency", veil):
        found.add("transparent")
    if veil is not None and veil.level is not None and veil.level >= _OPAQUE_FROM:
        found.add("opaque")
    if answers("granulation", said.get("granulation")):
        found.add("granulating")
    if answers("staining", said.get("staining")):
        found.add("staining")
    doubtful = answers("light", said.get("light"))
    if doubtful is not None:
        found.add("doubtful in light" if doubtful else "held in light")
    return frozenset(found)
