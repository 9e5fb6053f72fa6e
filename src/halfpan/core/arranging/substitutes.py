"""What could take a paint's place, out of those one owns, and what would be lost, in words.

Candidates are matched at masstone, mid and tint, then by how they handle. A match at one strength alone is
none: a pigment may be ochre in masstone and lemon in tint. When nothing is near enough, that is the answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from halfpan.core.arranging.painted import Painted, apart, colours
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spaces import lab_to_lch
from halfpan.core.paint.cautions import check_unwanted, contains_substance, holds
from halfpan.core.paint.index import substances
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import WITNESSES, Said, Statement, Witness, answers

_GOOD = 2.0
_HANDLING = 3.0
_LOST_STEP = 0.3
_LOOKED_AT = 60


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a substitute has to be; None does not mind. ``by`` is the witness that is asked.

    Without ``by`` the proof speaks if it can, then the label, then the literature.
    """

    transparent: bool | None = None
    granulating: bool | None = None
    lasting: bool | None = None
    single: bool | None = None
    without: tuple[str, ...] = ()
    maker: str = ""
    by: Witness | None = None


@dataclass(frozen=True, slots=True)
class Substitute:
    """One candidate: its distance, the CIEDE2000 at each strength, and what would be lost or change."""

    paint: str
    distance: float | None
    differences: tuple[float | None, float | None, float | None]
    good: bool
    losses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Substitutes:
    """Candidates, best first; ``unknown`` are those whose witness was silent on what was wanted."""

    target: str
    found: tuple[Substitute, ...]
    unknown: tuple[str, ...]
    sentence: str


def find_substitutes(
    target: Painted,
    others: Sequence[Painted],
    repeat: Repeatability,
    wanted: Wanted | None = None,
    *,
    most: int = 6,
) -> Substitutes:
    """Rank paints that could stand in for another.

    Parameters
    ----------
    target : Painted
    others : sequence of Painted
        One's own paints; the target itself is passed over.
    repeat : Repeatability
        A substitute is called good when its largest difference is within twice the painter's own repeats.
    wanted : Wanted, optional
    most : int
        How many to return.

    Raises
    ------
    BadRequest
        When what is not wanted is neither a pigment code nor a known substance.

    Notes
    -----
    Ranked by the root mean square difference plus 3 for each full step of transparency, granulation or
    staining (0 to 1), for the 60 nearest in colour; the weight is Halfpan's own. Without a reading of the
    target nothing can be matched: paints with the same codes are returned with unknown differences.
    """
    need = wanted or Wanted()
    check_unwanted(need.without)
    anything = need == Wanted(by=need.by)
    fits = {
        one.paint.id: True if anything else _fits(one, need)
        for one in others
        if one.paint.id != target.paint.id
    }
    able = [one for one in others if fits.get(one.paint.id)]
    unknown = tuple(paint for paint, answer in fits.items() if answer is None)
    labs = colours([target])[0]
    far = apart(labs, colours(able))
    near = [(able[k], float(far[k])) for k in np.argsort(far, kind="stable")[:_LOOKED_AT]]
    ranked = _ranked(target, [pair for pair in near if np.isfinite(pair[1])], most)
    if not ranked:
        return _by_codes(target, able, unknown, most)
    found = tuple(stand_in(target, one, distance, repeat) for one, distance in ranked)
    good = sum(1 for one in found if one.good)
    sentence = f"{good} good." if good else "No good substitute: the nearest are further away than that."
    return Substitutes(target.paint.id, found, unknown, f"{sentence} {_measure(repeat)}")


def best_said(statement: Statement, by: Witness | None) -> Said | None:
    """Return what one witness says, or the first that can be compared of proof, label and literature."""
    if by is not None:
        return statement.by(by)
    spoken = [statement.by(witness) for witness in reversed(WITNESSES)]
    proof, literature, label = spoken
    return next((said for said in (proof, label, literature) if said and said.level is not None), None)


def _measure(repeat: Repeatability) -> str:
    limit = _GOOD * repeat.limits().max()
    whose = "twice your own repeats" if repeat.measured else "twice an assumed repeat"
    return f"Good means within ΔE {limit:.0f} at every strength read ({whose})."


def _fits(one: Painted, need: Wanted) -> bool | None:
    asks = (need.transparent, need.granulating, need.lasting)
    told = (
        {statement.property: best_said(statement, need.by) for statement in one.statements()}
        if any(want is not None for want in asks)
        else dict[Property, Said | None]()
    )
    doubtful = answers("light", told.get("light"))
    held = [holds(one.paint, name) for name in need.without]
    asked = [
        (need.transparent, answers("transparency", told.get("transparency"))),
        (need.granulating, answers("granulation", told.get("granulation"))),
        (need.lasting, None if doubtful is None else not doubtful),
        (need.single, len(set(one.paint.codes)) == 1 if one.paint.codes else None),
        *((False, holds) for holds in held),
        (True if need.maker else None, one.paint.maker.casefold() == need.maker.casefold()),
    ]
    wanted = [(want, answer) for want, answer in asked if want is not None]
    if any(answer is not None and answer != want for want, answer in wanted):
        return False
    return None if any(answer is None for _, answer in wanted) else True


def _levels(one: Painted) -> dict[Property, float]:
    said = {statement.property: best_said(statement, None) for statement in one.statements()}
    return {prop: word.level for prop, word in said.items() if word is not None and word.level is not None}


def _ranked(target: Painted, near: Sequence[tuple[Painted, float]], most: int) -> list[tuple[Painted, float]]:
    """Return the best of some candidates (nearest in colour first), with how far they lie.

    Handling only adds to a distance, so those that lie further away than the last that is kept are not asked.
    """
    own = _levels(target)
    kept: list[tuple[float, int, Painted, float]] = []
    for k, (one, distance) in enumerate(near):
        if len(kept) == most and distance >= kept[-1][0]:
            break
        kept.append((distance + _HANDLING * _handling(own, _levels(one)), k, one, distance))
        kept = sorted(kept, key=lambda each: each[:2])[:most]
    return [(one, distance) for _, _, one, distance in kept]


def _handling(first: dict[Property, float], second: dict[Property, float]) -> float:
    shared = first.keys() & second.keys() - {"light"}
    return sum(abs(first[prop] - second[prop]) for prop in shared)


def stand_in(target: Painted, one: Painted, distance: float, repeat: Repeatability) -> Substitute:
    """Return one paint as a stand-in for another that lies ``distance`` away, good or not."""
    labs = colours([target, one])
    each = delta_e_2000(labs[0], labs[1])
    read = np.isfinite(each)
    values = [float(value) if ok else None for value, ok in zip(each, read, strict=True)]
    good = bool(np.all(each[read] <= _GOOD * repeat.limits()[read]))
    return Substitute(
        one.paint.id, distance, (values[0], values[1], values[2]), good, tuple(_losses(target, one))
    )


_MORE: dict[Property, tuple[str, str]] = {
    "light": ("more doubtful in light", "holds better in light"),
    "transparency": ("more opaque", "more transparent"),
    "granulation": ("granulates more", "granulates less"),
    "staining": ("stains more", "lifts more easily"),
}


def _losses(target: Painted, one: Painted) -> list[str]:
    first, second = _levels(target), _levels(one)
    told = []
    for prop, (more, less) in _MORE.items():
        step = second.get(prop, np.nan) - first.get(prop, np.nan)
        if abs(step) >= _LOST_STEP:
            told.append(more if step > 0 else less)
    if len(set(target.paint.codes)) == 1 < len(set(one.paint.codes)):
        told.append(f"mixed of {len(set(one.paint.codes))} pigments")
    told += [f"contains {name}" for name in _new_substances(target, one)]
    return told + _colour_losses(target, one)


def _new_substances(target: Painted, one: Painted) -> list[str]:
    metals = [s.name for s in substances().values() if not s.name.endswith("dust")]
    held = [name for name in metals if contains_substance(one.paint, name)]
    return [name for name in held if not contains_substance(target.paint, name)]


def _colour_losses(target: Painted, one: Painted) -> list[str]:
    (L1, C1, _), (L2, C2, _) = lab_to_lch(colours([target, one])[:, 0])
    told = []
    if L2 - L1 > 4:
        told.append(f"does not go as dark (L* {L2:.0f} against {L1:.0f})")
    if C1 - C2 > 6:
        told.append(f"duller at full strength (C* {C2:.0f} against {C1:.0f})")
    return told


def _by_codes(target: Painted, able: Sequence[Painted], unknown: tuple[str, ...], most: int) -> Substitutes:
    codes = set(target.paint.codes)
    same = [one for one in able if codes and set(one.paint.codes) == codes]
    found = tuple(
        Substitute(one.paint.id, None, (None, None, None), good=False, losses=tuple(_losses(target, one)))
        for one in same[:most]
    )
    told = "No reading of this paint to match; " + (
        "these have the same codes, which is no promise of the same look."
        if found
        else "and no paint has the same codes."
    )
    return Substitutes(target.paint.id, found, unknown, told)
