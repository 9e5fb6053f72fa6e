"""A range at a glance, and two ranges side by side: counts by each witness, crowds, gaps, counterparts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from halfpan.core.arranging.likeness import Likeness, find_likenesses
from halfpan.core.arranging.order import OrderRule, places
from halfpan.core.arranging.painted import Painted, apart, colours
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.arranging.substitutes import stand_in
from halfpan.core.colour.spaces import lab_to_lch
from halfpan.core.paint.cautions import contains_substance
from halfpan.core.paint.contents import contents
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import WITNESSES, Witness, answers

_BRIGHTS = {"yellow", "orange", "red", "rose", "violet", "blue", "turquoise", "green"}
_QUESTIONS: tuple[tuple[str, Property], ...] = (
    ("transparent", "transparency"),
    ("granulating", "granulation"),
    ("staining", "staining"),
    ("doubtful in light", "light"),
)


@dataclass(frozen=True, slots=True)
class Count:
    """How many paints are so, are not, and of how many it is not known; by which witness."""

    question: str
    witness: Witness
    yes: int
    no: int
    unknown: int


@dataclass(frozen=True, slots=True)
class Gap:
    """Two neighbours on the wheel with nothing between them; hue angles in degrees at mid strength."""

    first: str
    second: str
    degrees: float


@dataclass(frozen=True, slots=True)
class Glance:
    """A range in numbers. ``read`` paints have a reading; crowds are pairs that cannot be told apart."""

    paints: int
    read: int
    counts: tuple[Count, ...]
    crowds: tuple[Likeness, ...]
    gaps: tuple[Gap, ...]


@dataclass(frozen=True, slots=True)
class Counterpart:
    """The nearest paint of another range, how far it is, and what differs; none where nothing was read."""

    paint: str
    other: str | None
    distance: float | None
    good: bool
    differs: tuple[str, ...]


def glance(painted: Sequence[Painted], repeat: Repeatability, *, wide_gap: float = 35.0) -> Glance:
    """Return what a reviewer says after swatching a whole range.

    Parameters
    ----------
    painted : sequence of Painted
    repeat : Repeatability
    wide_gap : float
        From how many degrees of hue on two neighbouring brights leave a gap (Halfpan's own choice).
    """
    said = [{s.property: s for s in one.statements()} for one in painted]
    counts = [
        _count(question, witness, [answers(prop, each[prop].by(witness)) for each in said])
        for question, prop in _QUESTIONS
        for witness in WITNESSES
    ]
    read = int(np.isfinite(colours(painted)).any(axis=(1, 2)).sum()) if painted else 0
    return Glance(
        len(painted),
        read,
        (*_by_codes(painted), *counts),
        find_likenesses(painted, repeat),
        _gaps(painted, wide_gap),
    )


def counterparts(
    painted: Sequence[Painted], others: Sequence[Painted], repeat: Repeatability
) -> tuple[Counterpart, ...]:
    """Return for each paint of one range its nearest in another, with what differs in words."""
    labs, far = colours(painted), colours(others)
    found = []
    for index, one in enumerate(painted):
        distances = apart(labs[index], far)
        best = int(np.argmin(distances)) if len(others) else -1
        if best < 0 or not np.isfinite(distances[best]):
            found.append(Counterpart(one.paint.id, None, None, good=False, differs=()))
            continue
        other = others[best]
        match = stand_in(one, other, float(distances[best]), repeat)
        differs = [*match.losses]
        if set(one.paint.codes) != set(other.paint.codes):
            first, second = (
                " + ".join(one.paint.codes) or "unknown",
                " + ".join(other.paint.codes) or "unknown",
            )
            differs.insert(0, f"pigments {second} against {first}")
        found.append(
            Counterpart(one.paint.id, other.paint.id, float(distances[best]), match.good, tuple(differs))
        )
    return tuple(found)


def _count(question: str, witness: Witness, replies: Sequence[bool | None]) -> Count:
    yes, no = sum(r is True for r in replies), sum(r is False for r in replies)
    return Count(question, witness, yes, no, len(replies) - yes - no)


def _by_codes(painted: Sequence[Painted]) -> list[Count]:
    """Count what the label's codes decide: single pigments by the label, the rest by the literature."""
    held = [contents(one.paint.name, one.paint.codes) for one in painted]
    known = [bool(found.codes) and not found.unknown for found in held]
    white = [True if f.whites else (False if k else None) for f, k in zip(held, known, strict=True)]
    black = [True if f.blacks else (False if k else None) for f, k in zip(held, known, strict=True)]
    metals = [
        _count(f"contains {metal}", "literature", [contains_substance(one.paint, metal) for one in painted])
        for metal in ("cadmium", "cobalt")
    ]
    return [
        _count("single-pigment", "label", [found.single for found in held]),
        _count("contains white", "literature", white),
        _count("contains black", "literature", black),
        *metals,
    ]


def _gaps(painted: Sequence[Painted], wide: float) -> tuple[Gap, ...]:
    rule = OrderRule()
    mids = colours(painted)[:, 1] if painted else np.empty((0, 3))
    placed = places(painted, rule)
    read = np.flatnonzero(np.isfinite(mids).all(axis=-1)).tolist()
    bright = [i for i in read if placed[i].family in _BRIGHTS]
    if len(bright) < 2:
        return ()
    hues = lab_to_lch(mids[bright])[:, 2]
    turn = np.argsort(-hues)
    steps = (hues[turn] - np.roll(hues[turn], -1)) % 360
    gaps = [
        Gap(
            painted[bright[turn[i]]].paint.id,
            painted[bright[turn[(i + 1) % len(turn)]]].paint.id,
            float(steps[i]),
        )
        for i in np.flatnonzero(steps >= wide)
    ]
    return tuple(sorted(gaps, key=lambda gap: -gap.degrees))
