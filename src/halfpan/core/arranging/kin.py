"""Groups of paints that share codes or a name without being duplicates: cousins, namesakes, unread ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.likeness import Kind, code_set
from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.paint.names import fold_name

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Kin:
    """Some paints and what they share. ``farthest`` is the widest CIEDE2000 among them, if they were read."""

    kind: Kind
    shared: str
    paints: tuple[str, ...]
    farthest: float | None
    sentence: str


def find_kin(painted: Sequence[Painted], repeat: Repeatability) -> tuple[Kin, ...]:
    """Return cousins (one code set, several looks), paints whose look is unknown, and namesakes."""
    labs = colours(painted)
    by_codes = _grouped([" + ".join(code_set(one)) for one in painted])
    by_name = _grouped([fold_name(one.paint.name) for one in painted])
    found = [_by_codes(codes, members, painted, labs, repeat) for codes, members in by_codes.items()]
    found += [_namesakes(members, painted, labs) for members in by_name.values()]
    order: tuple[Kind, ...] = ("cousin", "same codes, look unknown", "same name only")
    kept = [one for one in found if one is not None]
    return tuple(sorted(kept, key=lambda one: (order.index(one.kind), -(one.farthest or 0), one.shared)))


def _grouped(keys: Sequence[str]) -> dict[str, list[int]]:
    groups: dict[str, list[int]] = {}
    for index, key in enumerate(keys):
        if key:
            groups.setdefault(key, []).append(index)
    return {key: members for key, members in groups.items() if len(members) > 1}


def _by_codes(
    codes: str, members: list[int], painted: Sequence[Painted], labs: Array, repeat: Repeatability
) -> Kin | None:
    paints = tuple(painted[i].paint.id for i in members)
    read = [i for i in members if np.isfinite(labs[i]).any()]
    apart = _apart(labs[read])
    if apart is not None and (np.nan_to_num(apart) > repeat.limits()).any():
        widest = float(np.nanmax(apart))
        told = f"One set of codes ({codes}), several looks: up to ΔE {widest:.1f} apart."
        return Kin("cousin", codes, tuple(painted[i].paint.id for i in read), widest, told)
    if len(read) < len(members):
        missing = len(members) - len(read)
        told = (
            f"{len(members)} paints with {codes}; {missing} not read, so whether they look alike is unknown."
        )
        return Kin("same codes, look unknown", codes, paints, None, told)
    return None


def _namesakes(members: list[int], painted: Sequence[Painted], labs: Array) -> Kin | None:
    if len({code_set(painted[i]) for i in members}) < 2:
        return None
    apart = _apart(labs[members])
    widest = None if apart is None or not np.isfinite(apart).any() else float(np.nanmax(apart))
    name = painted[members[0]].paint.name
    told = f"{len(members)} paints are called {name}, and not all of them hold the same pigments."
    return Kin("same name only", name, tuple(painted[i].paint.id for i in members), widest, told)


def _apart(labs: Array) -> Array | None:
    """Return the differences of all pairs at each strength, shape (n, n, 3), or none for less than two."""
    return delta_e_2000(labs[:, None], labs[None]) if len(labs) > 1 else None
