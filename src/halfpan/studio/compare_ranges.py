"""A range at a glance, and two ranges side by side."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.ranges import Counterpart, Glance, counterparts, glance
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.names import fold_name
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.painted_paints import gather_painted
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class RangeSeen:
    """A range: its name, its numbers, and, when held against another, the counterpart of each paint."""

    name: str
    glance: Glance
    counterparts: tuple[Counterpart, ...]


@dataclass(frozen=True, slots=True)
class Compared:
    """One range or two, the paints spoken of by their id, and the repeatability they were held against."""

    ranges: tuple[RangeSeen, ...]
    paints: dict[str, Paint]
    repeat: Repeatability


def compare_ranges(studio: Studio, *names: str) -> Compared:
    """Look at one range, or at two side by side; wished paints count too.

    Parameters
    ----------
    studio : Studio
    *names : str
        ``Maker`` or ``Maker Range``; ``all`` is everything.

    Raises
    ------
    BadRequest
        When a name means no paints, or more than two are given.
    """
    if not 1 <= len(names) <= 2:
        raise BadRequest("Name one range or two: a maker, or a maker and its range.")
    with studio.look() as db:
        known = gather_painted(db)
    everything, repeat = list(known.painted.values()), known.repeat
    found = [_of(everything, name) for name in names]
    seen = []
    for at, name in enumerate(names):
        other = found[1 - at] if len(names) == 2 else []
        matched = counterparts(found[at], other, repeat) if other else ()
        seen.append(RangeSeen(name, _glance(studio, found[at], repeat), matched))
    return Compared(tuple(seen), {one.paint.id: one.paint for one in everything}, repeat)


def _glance(studio: Studio, painted: list[Painted], repeat: Repeatability) -> Glance:
    return studio.memory.worked_out("glance", (painted, repeat), lambda: glance(painted, repeat))


def _of(everything: list[Painted], name: str) -> list[Painted]:
    wanted = fold_name(name)
    if wanted == "all":
        return everything
    found = [
        one
        for one in everything
        if wanted in {fold_name(one.paint.maker), fold_name(f"{one.paint.maker} {one.paint.range}")}
    ]
    if not found:
        ranges = sorted({f"{one.paint.maker} {one.paint.range}".strip() for one in everything} - {""})
        raise BadRequest(f"No paint is of “{name}”. There are: {', '.join(ranges) or 'no paints yet'}.")
    return found
