"""The wall: every paint in order, with the box that shows it and what can be asked of it by each witness."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal, get_args

from halfpan.collection import orders, paints, swatches
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.arranging.order import FAMILIES, Family, in_order
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import WITNESSES, Said, Witness, answers, label_says, literature_says
from halfpan.studio.list_paints import answering
from halfpan.studio.painted_paints import joined
from halfpan.studio.studio import Studio

Quality = Literal["transparent", "opaque", "granulating", "staining", "held in light", "single pigment"]
QUALITIES: tuple[Quality, ...] = get_args(Quality)
Sorting = Literal["families", "mine", "name", "maker", "newest"]
ORDERINGS: tuple[Sorting, ...] = get_args(Sorting)

_OPAQUE_FROM = 2 / 3 - 0.02


@dataclass(frozen=True, slots=True)
class WallPaint:
    """One place on the wall.

    ``box`` is the swatch that counts, or the latest that waits for review; none for a paint not painted yet.
    ``seen`` is what the painter's own tests and eyes showed.
    """

    paint: Paint
    family: Family
    box: KeptSwatch | None
    qualities: Mapping[Witness, frozenset[Quality]]
    seen: Mapping[Property, Said] = field(default_factory=dict)

    @property
    def doubtful(self) -> bool:
        """Whether its box was read and nobody has looked at the reading yet."""
        return self.box is not None and self.box.state != "accepted"

    @property
    def painted(self) -> Painted:
        """The paint with the swatch that counts, as questions of likeness are asked of it."""
        return Painted(self.paint, self.box.swatch if self.box and not self.doubtful else None, self.seen)


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What is left of a wall after filtering.

    ``counts`` says how many paints each quality would leave; ``nearest`` is the one filter whose absence
    would leave most, with how many, when nothing is left.
    """

    shown: tuple[WallPaint, ...]
    counts: Mapping[Quality, int]
    nearest: tuple[Quality, int] | None = None


def see_wall(studio: Studio) -> tuple[WallPaint, ...]:
    """Return the paints that are owned, family by family in the proposed order."""
    with studio.look() as db:
        counting = swatches.counting(db)
        waiting = {one.swatch.paint: one for one in swatches.listed(db, state="to review")}
        owned = joined(db, [one for one in paints.listed(db) if one.owned], counting)
    by_id = {one.paint.id: one for one in owned}
    return tuple(
        _placed(by_id[one.paint], one.family, counting.get(one.paint) or waiting.get(one.paint))
        for one in in_order(owned)
    )


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


def _placed(painted: Painted, family: Family, box: KeptSwatch | None) -> WallPaint:
    paint, told = painted.paint, painted.swatch or painted.seen
    proof = {one.property: one.proof for one in painted.statements()} if told else {}
    single: frozenset[Quality] = frozenset({"single pigment"}) if len(paint.codes) == 1 else frozenset()
    said = {**_printed(paint), "proof": _qualities(proof)}
    qualities = {witness: said[witness] | single for witness in WITNESSES}
    return WallPaint(paint, family, box, qualities, painted.seen)


@lru_cache(maxsize=20_000)
def _printed(paint: Paint) -> dict[Witness, frozenset[Quality]]:
    """Return what the label and the literature say; the same for a paint until it is corrected."""
    props: tuple[Property, ...] = ("light", "transparency", "granulation", "staining")
    return {
        "label": _qualities({prop: label_says(paint, prop) for prop in props}),
        "literature": _qualities({prop: literature_says(paint.codes, prop) for prop in props}),
    }


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
    if answers("light", said.get("light")) is False:
        found.add("held in light")
    return frozenset(found)
