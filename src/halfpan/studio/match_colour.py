"""Find the mixes of one's own paints that come nearest to a colour, with what is known of those paints."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import paints, swatches
from halfpan.core.colour.screen import hex_to_lab
from halfpan.core.mixing.identify import Likely, identify_by_mixing
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.match import Match, Painted, match_colour, painted_near
from halfpan.core.mixing.reach import Reach, reach_of_pair
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import Said, Statement, Witness
from halfpan.errors import BadRequest, NotLearnt
from halfpan.studio.find_paint import find_paint
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.paint_names import names_of
from halfpan.studio.painted_films import usual_paper
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.predict_mix import ground_of
from halfpan.studio.studio import Studio

_HEX = re.compile(r"^#?[0-9a-fA-F]{6}$")


@dataclass(frozen=True, slots=True)
class MatchAnswer:
    """The nearest mixes; painted boxes come first, as proof.

    ``light`` and ``granulation`` hold, for each match, what the weakest (or the most granulating) of its
    paints is by each witness. ``left_out`` are paints nothing was read of.
    """

    lab: Lab
    matches: tuple[Match, ...]
    painted: tuple[Painted, ...]
    light: tuple[dict[Witness, Said | None], ...]
    granulation: tuple[dict[Witness, Said | None], ...]
    paints: dict[str, Paint]
    names: dict[str, str]
    left_out: tuple[str, ...]

    @property
    def reached(self) -> bool:
        """Say whether any mix comes near enough."""
        return any(match.verdict == "reached" for match in self.matches)


def colour_in_words(text: str) -> Lab:
    """Return the colour of ``L,a,b`` or ``#rrggbb``.

    Raises
    ------
    BadRequest
    """
    if _HEX.match(text.strip()):
        lab = hex_to_lab(text.strip())
        return float(lab[0]), float(lab[1]), float(lab[2])
    try:
        L, a, b = (float(part) for part in re.split(r"[,;\s]+", text.strip()))
    except ValueError:
        raise BadRequest(f"“{text}” is not a colour; write L,a,b such as 45,-20,30, or #rrggbb.") from None
    if not (0 <= L <= 100 and max(abs(a), abs(b)) <= 200):
        raise BadRequest(f"“{text}” is no colour: L goes from 0 to 100, a and b from -200 to 200.")
    return L, a, b


def find_match(
    studio: Studio, lab: Lab, *, among: str = "all", most: int = 3, count: int = 12, paper: str = ""
) -> MatchAnswer:
    """Find the nearest mixes of 1 to ``most`` paints (at most 4) to a colour.

    ``among`` is ``all`` that are owned, a tin, a list in a file, or ids and names with commas between them.

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    if not 1 <= most <= 4:
        raise BadRequest("A match takes 1 to 4 paints.")
    with studio.look() as db:
        learnt = learnt_mixes(studio, db)
        offered = offered_paints(db, among)
        known = _known(learnt, offered)
        everything = {paint.id: paint for paint in paints.listed(db)}
        said = _said(db, offered)
        ground = ground_of(db, learnt, paper)
    matches = match_colour(learnt, lab, [p.id for p in known], most=most, ground=ground, count=count)
    mixes = [o for o in learnt.observations if not o.single]
    return MatchAnswer(
        lab=lab,
        matches=matches,
        painted=painted_near(mixes, lab),
        light=tuple(_lowest(match, said, "light") for match in matches),
        granulation=tuple(_lowest(match, said, "granulation") for match in matches),
        paints=everything,
        names=names_of(everything.values()),
        left_out=tuple(p.id for p in offered if p not in known),
    )


def _known(learnt: Learnt, offered: Sequence[Paint]) -> list[Paint]:
    known = [paint for paint in offered if paint.id in learnt.rows]
    if not known:
        raise NotLearnt("Nothing was read of any of these paints; read their swatches first.")
    return known


def _said(db: Connection, offered: Sequence[Paint]) -> dict[str, tuple[Statement, ...]]:
    return {one.paint.id: one.statements() for one in painted_paints(db, offered)}


def _lowest(
    match: Match, said: dict[str, tuple[Statement, ...]], prop: Property
) -> dict[Witness, Said | None]:
    """Return by each witness the paint of a mix that stands lowest; silence where one of them is unknown."""
    found: dict[Witness, Said | None] = {}
    witnesses: tuple[Witness, ...] = ("label", "literature", "proof")
    for witness in witnesses:
        told = [one.by(witness) for paint, _ in match.parts for one in said[paint] if one.property == prop]
        levels = [(one.level, one) for one in told if one is not None and one.level is not None]
        found[witness] = min(levels, key=lambda x: x[0])[1] if len(levels) == len(told) else None
    return found


def reach_of(studio: Studio, first: str, second: str, *, paper: str = "") -> tuple[Reach, dict[str, str]]:
    """Return what two paints can give, and what they are called."""
    with studio.look() as db:
        learnt = learnt_mixes(studio, db)
        pair = [find_paint(db, text).id for text in (first, second)]
        names = names_of(paints.listed(db))
        ground = ground_of(db, learnt, paper)
    if pair[0] == pair[1]:
        raise BadRequest("Two different paints are needed.")
    learnt.require(pair)
    return reach_of_pair(learnt, pair[0], pair[1], ground=ground), names


def identify_mixed(
    studio: Studio, text: str, *, among: str = "all", most: int = 3
) -> tuple[tuple[Likely, ...], dict[str, str]]:
    """Find which single-pigment paints, in what parts, look like a mixed paint at every strength read.

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    with studio.look() as db:
        learnt = learnt_mixes(studio, db)
        mixed = find_paint(db, text)
        counting = swatches.counting(db)
        offered = [p for p in offered_paints(db, among) if p.id != mixed.id and len(p.codes) == 1]
        names = names_of(paints.listed(db))
    known = _known(learnt, offered)
    swatch = counting[mixed.id].swatch if mixed.id in counting else None
    states = (swatch.masstone, swatch.mid, swatch.tint) if swatch else ()
    seen = [lab for lab in states if lab is not None] or [
        o.lab for o in learnt.observations if o.single and o.recipe.paints == (mixed.id,)
    ]
    if not seen:
        raise NotLearnt(f"Nothing was read of {mixed.name}; read its swatch first.")
    found = identify_by_mixing(
        learnt, seen, [p.id for p in known], most=most, ground=usual_paper(learnt.observations)
    )
    return found, names
