"""Cautions, each with its witness: the label quoted word for word, the literature by substance.

Nothing here says that a paint does no harm. A paint without a caution is one for which none is recorded;
the maker's safety data sheet and the label in hand decide.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from halfpan.core.paint.codes import parse_codes
from halfpan.core.paint.index import Certainty, Pigment, pigment, substances
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.witness import Witness
from halfpan.errors import BadRequest

DEFER = "The maker's safety data sheet and the label in your hand decide."
NONE_RECORDED = f"No caution is recorded here. That is no statement about the paint. {DEFER}"
_WARNS_CHILDREN = re.compile(
    r"\bCL\b|(?i:cautionary|out of (?:the )?reach of children|children under|adults? only|poison|toxic if"
    r"|not (?:\w+ ){0,4}(?:by|for) (?:\w+ ){0,2}children|under (?:\d+|twelve|three) (?:years|months)"
    r"|danger\b|harmful)"
)
_NAMES_CHILDREN = re.compile(r"\bAP\b|(?i:suitable for (?:\w+ ){0,2}children|for children)|\bEN ?71\b")


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: who says so, about which substance (none for a label's own words), and the source."""

    witness: Witness
    substance: str | None
    text: str
    source: str
    certainty: Certainty | None = None


@dataclass(frozen=True, slots=True)
class ForChildren:
    """What a label says about children: it warns, it names them as users, or it says nothing."""

    paint: str
    answer: Literal["the label warns", "the label names children or a mark", "the label says nothing"]
    quote: str
    substances: tuple[str, ...]


def cautions(paint: Paint) -> tuple[Caution, ...]:
    """Return the cautions of one paint: the label's words first, then the literature's by code."""
    found: list[Caution] = []
    if paint.label.health:
        found.append(Caution("label", None, f"“{paint.label.health}”", "as printed on the label"))
    for code in dict.fromkeys(paint.codes):
        known = pigment(code)
        if known:
            found += [_by_literature(known, symbol) for symbol in known.hazards]
    return tuple(found)


def _by_literature(known: Pigment, symbol: str) -> Caution:
    substance = substances()[symbol]
    where = f"{known.code} ({known.hazard_note})" if known.hazard_note else known.code
    said = substance.caution
    return Caution("literature", substance.name, f"{where}: {said.text}", said.source, said.certainty)


def check_unwanted(names: Iterable[str]) -> None:
    """Refuse a name that is neither a substance of the index nor a pigment code: nothing would hold it.

    Raises
    ------
    BadRequest
    """
    known = {word.casefold() for symbol, one in substances().items() for word in (symbol, one.name)}
    for name in names:
        if name.casefold() not in known and not any(code.canonical for code in parse_codes(name)):
            told = ", ".join(sorted(one.name for one in substances().values()))
            raise BadRequest(
                f"“{name}” is neither a pigment code nor a substance known here; the substances are: {told}."
            )


def holds(paint: Paint, unwanted: str) -> bool | None:
    """Say whether the codes of a paint name a code, or hold a substance; see `contains_substance`."""
    named = {code.canonical for code in parse_codes(unwanted) if code.canonical}
    if named:
        return bool(named & set(paint.codes)) if paint.codes else None
    return contains_substance(paint, unwanted)


def contains_substance(paint: Paint, name: str) -> bool | None:
    """Say whether the codes of a paint hold a substance (``cadmium``, ``cobalt``, ``Pb``, ...).

    Returns
    -------
    bool or None
        None when no code is known or one of them is not in the index and none of the others holds it.
    """
    known = [pigment(code) for code in paint.codes]
    held = {
        word.casefold()
        for found in known
        if found
        for symbol in found.hazards
        for word in (symbol, substances()[symbol].name)
    }
    if name.casefold() in held:
        return True
    return False if known and all(known) else None


def for_children(paints: Iterable[Paint]) -> tuple[ForChildren, ...]:
    """Go through a class list or a tin: what each label says about children, in the label's own words.

    Notes
    -----
    ``CL`` marks a cautionary label and ``AP`` a certified product in a common labelling scheme; a line
    "conforms to ASTM D4236" says that hazards are labelled, nothing about children.
    """
    return tuple(_for_children(paint) for paint in paints)


def _for_children(paint: Paint) -> ForChildren:
    health = paint.label.health
    held = dict.fromkeys(c.substance for c in cautions(paint) if c.substance)
    substances_held = tuple(name for name in held if name)
    if _WARNS_CHILDREN.search(health):
        return ForChildren(paint.id, "the label warns", health, substances_held)
    if _NAMES_CHILDREN.search(health):
        return ForChildren(paint.id, "the label names children or a mark", health, substances_held)
    return ForChildren(paint.id, "the label says nothing", health, substances_held)
