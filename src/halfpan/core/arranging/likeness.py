"""Which pairs of paints are duplicates, and which only look alike.

Two paints look the same when they cannot be told apart at masstone, mid and tint, measured against how far
two swatches of one paint lie apart when the same painter paints them. A likeness rests on the codes of the
labels and the readings of the charts; one does not stand in for the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from halfpan.core.arranging.painted import STRENGTHS, Painted, colours, hiding
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.paint.names import fold_name

Array = NDArray[np.float64]
Kind = Literal["duplicate", "look-alike", "cousin", "same codes, look unknown", "same name only"]
KINDS: tuple[Kind, ...] = ("duplicate", "look-alike", "cousin", "same codes, look unknown", "same name only")

# CIEDE2000 is never below |dL*| / S_L, and S_L = 1 + 0.015 (L - 50)^2 / sqrt(20 + (L - 50)^2) stays under
# 1.75 for mean lightnesses of 0 to 100 (Sharma, Wu, Dalal 2005).
_MOST_S_L = 1.75


@dataclass(frozen=True, slots=True)
class Likeness:
    """Two paints and how alike they are: CIEDE2000 at masstone, mid and tint, None where one was not read.

    ``one_light`` warns that their pigments differ: they may match in one light and part in another.
    """

    kind: Kind
    first: str
    second: str
    differences: tuple[float | None, float | None, float | None]
    hiding: float | None
    one_light: bool

    @property
    def worst(self) -> float:
        """The largest of the differences, infinite where nothing was read."""
        return max((value for value in self.differences if value is not None), default=np.inf)


def compare(first: Painted, second: Painted, repeat: Repeatability) -> Likeness | None:
    """Return how alike two paints are, or none if nothing joins them."""
    labs, ratios = colours([first, second]), hiding([first, second])
    apart = delta_e_2000(labs[0], labs[1])
    return _likeness(first, second, apart, float(abs(ratios[0] - ratios[1])), repeat.limits())


def find_likenesses(painted: Sequence[Painted], repeat: Repeatability) -> tuple[Likeness, ...]:
    """Return every pair that cannot be told apart, duplicates first, nearest first.

    Notes
    -----
    Exact for paints read at masstone and mid: a pair within the limits is within 1.75 times them in
    lightness, and those few are compared in full, tints too where both were read. Other paints are compared
    with those that share their codes.
    """
    labs, ratios, limits = colours(painted), hiding(painted), repeat.limits()
    joined = {*_look_alikes(labs, limits), *_partly_read([code_set(one) for one in painted], labs)}
    pairs = np.array(sorted(joined), dtype=int).reshape(-1, 2)
    apart = delta_e_2000(labs[pairs[:, 0]], labs[pairs[:, 1]])
    steps = np.abs(ratios[pairs[:, 0]] - ratios[pairs[:, 1]])
    found = [
        _likeness(painted[i], painted[j], apart[k], float(steps[k]), limits) for k, (i, j) in enumerate(pairs)
    ]
    kept = [one for one in found if one is not None and one.kind in {"duplicate", "look-alike"}]
    return tuple(sorted(kept, key=lambda one: (KINDS.index(one.kind), one.worst, one.first, one.second)))


def nearest(one: Painted, others: Sequence[Painted], repeat: Repeatability) -> list[Likeness]:
    """Return the likenesses of one paint to others, all kinds, nearest first within each kind."""
    labs, ratios, limits = colours(others), hiding(others), repeat.limits()
    apart = delta_e_2000(labs, colours([one])[0])
    steps = np.abs(ratios - hiding([one])[0])
    read = np.isfinite(apart)
    alike = set(np.flatnonzero(read.any(axis=1) & (~read | (apart <= limits)).all(axis=1)).tolist())
    codes, name = set(one.paint.codes), fold_name(one.paint.name)
    found = [
        _likeness(one, other, apart[k], float(steps[k]), limits)
        for k, other in enumerate(others)
        if other.paint.id != one.paint.id
        and (k in alike or set(other.paint.codes) == codes or fold_name(other.paint.name) == name)
    ]
    return sorted((f for f in found if f), key=lambda f: (KINDS.index(f.kind), f.worst, f.second))


def in_words(likeness: Likeness, repeat: Repeatability) -> str:
    """Say a likeness in sentences, with the measure it was held against."""
    read = [
        f"{name} {value:.1f}"
        for name, value in zip(STRENGTHS, likeness.differences, strict=True)
        if value is not None
    ]
    limit = f"{repeat.limits().max():.1f}"
    measure = f"±{limit} of your own repeats" if repeat.measured else f"an assumed ±{limit}"
    measured = f"apart by ΔE {', '.join(read)}, against {measure}"
    told = {
        "duplicate": f"Same codes, {measured}: not told apart.",
        "look-alike": f"Other codes, {measured}: not told apart in the light of the reading.",
        "cousin": f"Same codes, yet {measured}.",
        "same codes, look unknown": "Same codes; one of the two was not read, so the look is unknown.",
        "same name only": f"The name is the same; the codes differ{', ' + measured if read else ''}.",
    }[likeness.kind]
    if read and len(read) < 3:
        told += " Not every strength was read."
    if likeness.hiding is not None and likeness.hiding > repeat.hiding and likeness.kind in KINDS[:2]:
        told += f" They hide differently: contrast ratios {likeness.hiding:.2f} apart."
    if likeness.one_light:
        told += (
            " Their pigments differ: the match may hold in one light only. Look in daylight and lamplight."
        )
    return told


def code_set(one: Painted) -> tuple[str, ...]:
    """Return the codes of a paint without order and repeats."""
    return tuple(sorted(set(one.paint.codes)))


def _look_alikes(labs: Array, limits: Array) -> Iterator[tuple[int, int]]:
    read = _read(labs)
    full = labs[read]
    if len(full) < 2:
        return
    tree = cKDTree(full[:, :2, 0] / (_MOST_S_L * limits[:2]))
    near = tree.query_pairs(1.0, p=np.inf, output_type="ndarray")
    for strength in range(3):
        near = near[_may_match(full[near[:, 0], strength], full[near[:, 1], strength], limits[strength])]
    for strength in range(3):
        apart = delta_e_2000(full[near[:, 0], strength], full[near[:, 1], strength])
        near = near[~(apart > limits[strength])]  # a tint that was not read excludes nobody
    for i, j in read[near]:
        yield (int(min(i, j)), int(max(i, j)))


def _may_match(first: Array, second: Array, limit: float) -> NDArray[np.bool_]:
    """Say cheaply which pairs may lie within a limit: no pair that does is missed.

    In the plane of chroma and hue the difference is at least the distance in a*, b* over S_C, times
    sqrt(1 - |R_T| / 2). S_C = 1 + 0.045 C' with C' up to 1.5 times C is the larger of the two weights, and
    R_T, at most sqrt(3) in size, is nothing where both b* are positive: it belongs to the blues.
    """
    apart = np.hypot(first[:, 1] - second[:, 1], first[:, 2] - second[:, 2])
    chroma = (np.hypot(first[:, 1], first[:, 2]) + np.hypot(second[:, 1], second[:, 2])) / 2
    turned = np.where((first[:, 2] > 0) & (second[:, 2] > 0), 0.99, 0.36)
    return np.asarray(~(apart * turned > limit * (1 + 0.0675 * chroma)), dtype=np.bool_)


def _partly_read(keys: Sequence[tuple[str, ...]], labs: Array) -> Iterator[tuple[int, int]]:
    """Yield the pairs with the same codes of which one was read in part."""
    full = set(_read(labs).tolist())
    groups: dict[tuple[str, ...], list[int]] = {}
    for index, key in enumerate(keys):
        if key and np.isfinite(labs[index]).any():
            groups.setdefault(key, []).append(index)
    for members in groups.values():
        for at, i in enumerate(members):
            yield from ((i, j) for j in members[at + 1 :] if not (i in full and j in full))


def _read(labs: Array) -> NDArray[np.intp]:
    """Return the paints read at masstone and mid."""
    return np.flatnonzero(np.isfinite(labs[:, :2]).reshape(len(labs), 6).all(axis=1))


def _likeness(first: Painted, second: Painted, apart: Array, step: float, limits: Array) -> Likeness | None:
    codes, others = code_set(first), code_set(second)
    read = np.isfinite(apart)
    same_look = bool(read.any() and np.all(apart[read] <= limits[read]))
    kind: Kind
    if codes and codes == others:
        kind = "duplicate" if same_look else "cousin" if read.any() else "same codes, look unknown"
    elif same_look:
        kind = "look-alike"
    elif fold_name(first.paint.name) == fold_name(second.paint.name):
        kind = "same name only"
    else:
        return None
    values = [float(value) if ok else None for value, ok in zip(apart, read, strict=True)]
    return Likeness(
        kind,
        first.paint.id,
        second.paint.id,
        (values[0], values[1], values[2]),
        step if np.isfinite(step) else None,
        kind == "look-alike" and bool(codes and others),
    )
