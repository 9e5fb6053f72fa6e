"""What is really in a paint: single or mixed, white or black in it, and whether its name keeps its word.

No verdict is drawn from the number of pigments. Everything here rests on the codes of the label (the
label's witness) and on what the index knows of them (the literature's); codes unknown means unknown.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from halfpan.core.paint.index import Pigment, pigment
from halfpan.core.paint.names import Promise, promises

_PAIRS = {
    "PY42": "PY43 is the natural ochre of the same iron oxide",
    "PY43": "PY42 is the synthetic oxide of the same kind",
    "PR101": "PR102 is the natural red earth of the same iron oxide",
    "PR102": "PR101 is the synthetic oxide of the same kind",
    "PB66": "NB1 is natural indigo",
    "NB1": "PB66 is synthetic indigo",
    "PR83": "NR9 is natural madder",
    "NR9": "PR83 is the synthetic lake of madder's main dye",
}


@dataclass(frozen=True, slots=True)
class NameCheck:
    """A name against the codes. ``kept`` is none where the name promises no certain pigment."""

    promise: Promise
    kept: bool | None
    sentence: str


@dataclass(frozen=True, slots=True)
class Contents:
    """What the codes say is in a paint; ``single`` is none when no code is known.

    ``whites`` and ``blacks`` are codes; ``remarks`` are sentences on natural and synthetic pairs, solid
    solutions and codes with many faces; ``unknown`` are codes that the index does not hold.
    """

    codes: tuple[str, ...]
    single: bool | None
    whites: tuple[str, ...]
    blacks: tuple[str, ...]
    names: tuple[NameCheck, ...]
    remarks: tuple[str, ...]
    unknown: tuple[str, ...]


def contents(name: str, codes: Sequence[str]) -> Contents:
    """Return what is in a paint of this name with these canonical codes."""
    return _contents(name, tuple(dict.fromkeys(codes)))


@lru_cache(maxsize=8192)
def _contents(name: str, different: tuple[str, ...]) -> Contents:
    known = [found for code in different if (found := pigment(code))]
    return Contents(
        codes=different,
        single=len(different) == 1 if different else None,
        whites=tuple(p.code for p in known if p.group == "white"),
        blacks=tuple(p.code for p in known if p.group == "black"),
        names=check_name(name, different),
        remarks=tuple(remark for p in known for remark in _remarks(p)),
        unknown=tuple(code for code in different if pigment(code) is None),
    )


def check_name(name: str, codes: Sequence[str]) -> tuple[NameCheck, ...]:
    """Hold what a name promises against the codes; without codes nothing can be said."""
    return tuple(_name_check(promise, codes) for promise in promises(name)) if codes else ()


def same_pigment(code: str, other: str) -> bool:
    """Whether two codes name one pigment, the plain code standing for any of its colon forms."""
    if code == other:
        return True
    base, _, form = code.partition(":")
    other_base, _, other_form = other.partition(":")
    return base == other_base and not (form and other_form)


def _name_check(promise: Promise, codes: Sequence[str]) -> NameCheck:
    named = promise.named
    listed = " + ".join(codes)
    if not named.codes:
        return NameCheck(promise, None, f"“{named.name}”: {named.note}.")
    held = [code for code in codes if any(same_pigment(code, meant) for meant in named.codes)]
    meant = " or ".join(named.codes[:4]) + (" …" if len(named.codes) > 4 else "")
    if held and promise.hue:
        sentence = f"The name says hue, an imitation, yet {held[0]} is the pigment that “{named.name}” names."
        return NameCheck(promise, True, sentence)
    if held:
        return NameCheck(promise, True, f"“{named.name}” and {held[0]} belong together.")
    sentence = f"The name speaks of {named.name} ({meant}); the label's codes are {listed}."
    if promise.hue:
        sentence += " It says so itself: hue means an imitation."
    elif promise.genuine:
        sentence += " “Genuine” would mean that the named pigment is in it."
    elif named.traditional:
        sentence += f" An old name: {named.note or 'its first pigment is seldom in it today'}."
    return NameCheck(promise, False, sentence)


def _remarks(found: Pigment) -> list[str]:
    remarks = []
    if found.code in _PAIRS:
        remarks.append(f"{found.code} is {found.origin.text}; {_PAIRS[found.code]}. Labels mix the two up.")
    if found.solid_solution:
        numbers = " and ".join(found.constitution)
        remarks.append(f"{found.code} is a solid solution: two structures ({numbers}) in one crystal.")
    if found.code == "PB15":
        remarks.append("PB15 without a colon number does not say which form: red shade or green shade.")
    if found.code in {"PBr7", "PV19", "PR101"}:
        remarks.append(f"{found.code} has many faces: {_FACES[found.code]}. One code, not one colour.")
    return remarks


_FACES = {
    "PBr7": "raw and burnt siennas and umbers",
    "PV19": "from rose to violet",
    "PR101": "from transparent to opaque, orange to violet",
}
