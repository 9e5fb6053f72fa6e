"""Do I own this already? Four answers that are kept apart: by codes, by pigment, by look, by name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfpan.core.arranging.likeness import Likeness, nearest
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.codes import parse_codes
from halfpan.core.paint.contents import same_pigment
from halfpan.core.paint.index import pigment, pigments
from halfpan.core.paint.names import fold_name, near_names, promises


@dataclass(frozen=True, slots=True)
class Owned:
    """What a collection holds of what was asked for; every answer is a list of paints.

    Attributes
    ----------
    codes : tuple of str
        The codes that were asked for, or that the name stands for.
    same_codes : tuple of str
        Paints with exactly these codes (asked by codes only).
    among_others : tuple of str
        Mixed paints that hold all of them (asked by codes only).
    pigment_elsewhere : tuple of str
        Paints that hold such a pigment under another name, or another form or twin of it.
    look : tuple of Likeness
        Paints that cannot be told apart from the one asked about, if it was painted and read.
    name : tuple of str
        Paints of that name.
    maybe : tuple of str
        Paints whose name is a typing error away.
    """

    codes: tuple[str, ...]
    same_codes: tuple[str, ...]
    among_others: tuple[str, ...]
    pigment_elsewhere: tuple[str, ...]
    look: tuple[Likeness, ...]
    name: tuple[str, ...]
    maybe: tuple[str, ...]

    @property
    def nothing(self) -> bool:
        """Whether none of the four ways found anything."""
        ways = (self.same_codes, self.among_others, self.pigment_elsewhere, self.look, self.name, self.maybe)
        return not any(ways)


def own(
    text: str, painted: Sequence[Painted], repeat: Repeatability, *, like: Painted | None = None
) -> Owned:
    """Say what of a collection answers to some codes or a name.

    Parameters
    ----------
    text : str
        Codes ("PB60", "PB15:3 + PG7") or a name ("phthalo blue").
    painted : sequence of Painted
        The collection.
    repeat : Repeatability
    like : Painted, optional
        A painted and read paint that the text means, for the answer by look.
    """
    read = parse_codes(text, pigments().keys())
    asked = tuple(code.canonical for code in read if code.canonical)
    look = nearest(like, painted, repeat) if like is not None else []
    alike = tuple(one for one in look if one.kind in {"duplicate", "look-alike"})
    if asked and len(asked) == len(read):
        return _by_codes(asked, painted, alike)
    return _by_name(text, painted, alike)


def _by_codes(asked: tuple[str, ...], painted: Sequence[Painted], look: tuple[Likeness, ...]) -> Owned:
    wanted = frozenset(asked)
    ways: dict[tuple[str, ...], str] = {}  # many paints share few sets of codes
    found: dict[str, list[str]] = {"same": [], "among": [], "kin": [], "": []}
    for one in painted:
        codes = one.paint.codes
        if codes not in ways:
            ways[codes] = _way(wanted, codes)
        found[ways[codes]].append(one.paint.id)
    same, among, kin = (tuple(found[way]) for way in ("same", "among", "kin"))
    return Owned(asked, same, among, kin, look, (), ())


def _way(wanted: frozenset[str], codes: tuple[str, ...]) -> str:
    held = set(codes)
    if held == wanted:
        return "same"
    if wanted < held:
        return "among"
    return "kin" if all(any(_kindred(code, one) for one in codes) for code in wanted) else ""


def _by_name(text: str, painted: Sequence[Painted], look: tuple[Likeness, ...]) -> Owned:
    wanted = fold_name(text)
    exact = [one for one in painted if wanted in _names(one)]
    taken = {one.paint.id for one in exact}
    codes = tuple(dict.fromkeys(code for promise in promises(text) for code in promise.named.codes))
    elsewhere = [
        one.paint.id
        for one in painted
        if one.paint.id not in taken
        and any(same_pigment(code, held) for code in codes for held in one.paint.codes)
    ]
    near = {name for name, _ in near_names(text, {name for one in painted for name in _names(one)})}
    maybe = [one.paint.id for one in painted if one.paint.id not in taken and near & _names(one)]
    return Owned(codes, (), (), tuple(elsewhere), look, tuple(one.paint.id for one in exact), tuple(maybe))


def _names(one: Painted) -> set[str]:
    return {
        fold_name(name) for name in (one.paint.name, one.paint.label.name, *one.paint.other_names) if name
    }


def _kindred(code: str, held: str) -> bool:
    """Say whether two codes are forms or twins of one pigment: the same constitution number and hue."""
    if same_pigment(code, held):
        return True
    first, second = pigment(code), pigment(held)
    if first is None or second is None or not first.constitution:
        return False
    return first.constitution == second.constitution and first.group == second.group
