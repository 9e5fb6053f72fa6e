"""Mixed paints on the wish list: can their look be made from singles one owns, and what would differ."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import paints, swatches
from halfpan.core.arranging.painted import Painted
from halfpan.core.mixing.identify import Likely, identify_by_mixing
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.paint.contents import same_pigment
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import WITNESSES, Said
from halfpan.errors import NotLearnt
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.painted_films import usual_paper
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.studio import Studio

_ALIKE = 3.0  # mean dE00 over the strengths up to which a mix has the paint's look: about a hand's repeats
_OFFERED = 12  # singles tried beside those of its own pigments, nearest first by the search
_TOLD: tuple[Property, ...] = ("transparency", "granulation", "light")


@dataclass(frozen=True, slots=True)
class MixYourself:
    """One wished mixed paint and what is owned towards it.

    Attributes
    ----------
    singles : tuple of (code, ids)
        For each of its codes, the single-pigment paints owned; none means that pigment is not owned singly.
    parts : Likely or None
        The parts that come nearest to its look at every strength read; none when it, or no single, was read.
    reaches : bool or None
        Whether they have its look, within 3 dE00 on average; none is unknown.
    differs : tuple of str
        What would differ, each with its witness.
    """

    paint: Paint
    why_unknown: str
    singles: tuple[tuple[str, tuple[str, ...]], ...]
    parts: Likely | None
    reaches: bool | None
    differs: tuple[str, ...]


def mix_yourself(studio: Studio, *, most: int = 3) -> tuple[tuple[MixYourself, ...], dict[str, Paint]]:
    """Go through the mixed paints of the wish list; singles wished for are passed over."""
    with studio.look() as db:
        everything = paints.listed(db)
        wished = [one for one in everything if not one.owned and len(set(one.codes)) > 1]
        singles = [one for one in everything if one.owned and len(set(one.codes)) == 1]
        learnt = _learnt(studio, db)
        counting = {key: kept.swatch for key, kept in swatches.counting(db).items()}
        painted = {one.paint.id: one for one in painted_paints(db, [*wished, *singles])}
    told = tuple(_one(one, singles, learnt, counting.get(one.id), painted, most=most) for one in wished)
    return told, {one.id: one for one in everything}


def _learnt(studio: Studio, db: Connection) -> Learnt | None:
    try:
        return learnt_mixes(studio, db)
    except NotLearnt:
        return None


def _one(
    wish: Paint,
    singles: list[Paint],
    learnt: Learnt | None,
    swatch: Swatch | None,
    painted: dict[str, Painted],
    *,
    most: int,
) -> MixYourself:
    codes = tuple(dict.fromkeys(wish.codes))
    by_code = tuple(
        (code, tuple(one.id for one in singles if same_pigment(one.codes[0], code))) for code in codes
    )
    seen = [lab for lab in (swatch.masstone, swatch.mid, swatch.tint) if lab] if swatch else []
    read = [one.id for one in singles if learnt and one.id in learnt.rows]
    why = "" if seen and read else "it was not read yet: paint a dab of it" if read else "no single was read"
    if why or learnt is None:
        return MixYourself(wish, why or "no single was read", by_code, None, None, ())
    own = [one for _, ids in by_code for one in ids if one in learnt.rows]
    ground = usual_paper(learnt.observations)
    found = identify_by_mixing(learnt, seen, own, most=most, ground=ground) if own else ()
    best = found[0] if found else None
    if best is None or best.apart > _ALIKE:
        wider = identify_by_mixing(learnt, seen, read, most=most, ground=ground, count=_OFFERED)
        if wider and (best is None or wider[0].apart < best.apart):
            best = wider[0]
    differs = () if best is None else _differs(painted[wish.id], [painted[paint] for paint, _ in best.parts])
    return MixYourself(wish, "", by_code, best, None if best is None else best.apart <= _ALIKE, differs)


def _differs(wish: Painted, parts: list[Painted]) -> tuple[str, ...]:
    """Say in words what would not be the same, by witnesses that speak of both."""
    codes = dict.fromkeys(code for one in parts for code in one.paint.codes)
    told = []
    missing = [code for code in wish.paint.codes if not any(same_pigment(code, held) for held in codes)]
    other = [code for code in codes if not any(same_pigment(code, held) for held in wish.paint.codes)]
    if missing or other:
        told.append(
            f"other pigments: {' '.join(codes)} in place of {' '.join(dict.fromkeys(wish.paint.codes))}"
        )
    told.append(f"{len(codes)} pigments against {len(set(wish.paint.codes))}")
    for prop in _TOLD:
        for witness in WITNESSES:
            mine = _said(wish, prop).get(witness)
            theirs = [_said(one, prop).get(witness) for one in parts]
            if mine and mine.level is not None and all(one and one.level is not None for one in theirs):
                # the granulating, the opaque, the fugitive one is what shows in a mix
                level = max(one.level for one in theirs if one and one.level is not None)
                if abs(level - mine.level) >= 0.3:
                    names = ", ".join(
                        f"{p.paint.name} “{s.text}”" for p, s in zip(parts, theirs, strict=True) if s
                    )
                    told.append(f"{prop} by the {witness}: “{mine.text}” against {names}")
    return tuple(told)


def _said(one: Painted, prop: Property) -> dict[str, Said | None]:
    statement = next(said for said in one.statements() if said.property == prop)
    return {witness: statement.by(witness) for witness in WITNESSES}
