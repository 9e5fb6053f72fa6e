"""Which pairs of paints are duplicates, and which only look alike.

Two paints look the same when they cannot be told apart at masstone, mid and tint, measured against how far
two swatches of one paint lie apart when the same painter paints them. A likeness rests on the codes of the
labels and the readings of the charts; one does not stand in for the other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isnan
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from halfpan.core.arranging.painted import STRENGTHS, Painted, colours, hiding
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.paint.names import fold_name

Array = NDArray[np.float64]
Places = NDArray[np.intp]
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
    found = _joined([first, second], np.array([(0, 1)]), repeat.limits())
    return found[0] if found else None


def find_likenesses(painted: Sequence[Painted], repeat: Repeatability) -> tuple[Likeness, ...]:
    """Return every pair that cannot be told apart, duplicates first, nearest first.

    Notes
    -----
    Exact for paints read at masstone and mid: a pair within the limits is within 1.75 times them in
    lightness, and those few are compared in full, tints too where both were read. Other paints are compared
    with those that share their codes.
    """
    labs, limits = colours(painted), repeat.limits()
    partly = list(_partly_read([code_set(one) for one in painted], labs))
    pairs = np.vstack([_look_alikes(labs, limits), np.array(partly, dtype=np.intp).reshape(-1, 2)])
    found = _joined(painted, pairs, limits)
    return tuple(one for one in found if one.kind in {"duplicate", "look-alike"})


def nearest(one: Painted, others: Sequence[Painted], repeat: Repeatability) -> list[Likeness]:
    """Return the likenesses of one paint to others, all kinds, nearest first within each kind."""
    rest = [other for other in others if other.paint.id != one.paint.id]
    pairs = np.column_stack([np.zeros(len(rest), dtype=np.intp), np.arange(1, len(rest) + 1)])
    return _joined([one, *rest], pairs, repeat.limits())


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


def _look_alikes(labs: Array, limits: Array) -> Places:
    """Return the pairs of paints read at masstone and mid that look alike, shape (n, 2)."""
    read = _read(labs)
    full = labs[read]
    if len(full) < 2:
        return np.empty((0, 2), dtype=np.intp)
    tree = cKDTree(full[:, :2, 0] / (_MOST_S_L * limits[:2]))
    near = tree.query_pairs(1.0, p=np.inf, output_type="ndarray")
    for strength in range(3):
        near = near[_may_match(full[:, strength], near, limits[strength])]
    for strength in range(3):
        apart = delta_e_2000(full[near[:, 0], strength], full[near[:, 1], strength])
        near = near[~(apart > limits[strength])]  # a tint that was not read excludes nobody
    return read[near]


def _may_match(labs: Array, pairs: Places, limit: float) -> NDArray[np.bool_]:
    """Say cheaply which pairs may lie within a limit: no pair that does is missed.

    In the plane of chroma and hue the difference is at least the distance in a*, b* over S_C, times
    sqrt(1 - |R_T| / 2). S_C = 1 + 0.045 C' with C' up to 1.5 times C is the larger of the two weights, and
    R_T, at most sqrt(3) in size, is nothing where both b* are positive: it belongs to the blues.
    """
    first, second = pairs.T
    a, b = labs[:, 1], labs[:, 2]
    most = 0.5 + 0.0675 / 2 * np.hypot(a, b)
    apart = (a[first] - a[second]) ** 2 + (b[first] - b[second]) ** 2
    turned = np.where((b > 0)[first] & (b > 0)[second], 0.99, 0.36)
    return np.asarray(~(apart > (limit / turned * (most[first] + most[second])) ** 2), dtype=np.bool_)


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


def _joined(painted: Sequence[Painted], pairs: Places, limits: Array) -> list[Likeness]:
    """Return how alike the two of each pair, shape (n, 2), are: best kind first, nearest first within it.

    Pairs that nothing joins are left out.
    """
    first, second = pairs.T
    labs, ratios, ids = colours(painted), hiding(painted), [one.paint.id for one in painted]
    apart, steps = delta_e_2000(labs[first], labs[second]), np.abs(ratios[first] - ratios[second])
    kind = _kinds(painted, pairs, apart, limits)
    place = np.argsort(np.argsort(ids))
    order = np.lexsort((place[second], place[first], _worst(apart), kind))
    kept = order[kind[order] >= 0]
    coded = [bool(one.paint.codes) for one in painted]
    return [
        Likeness(
            KINDS[at],
            ids[i],
            ids[j],
            (_known(masstone), _known(mid), _known(tint)),
            _known(step),
            one_light=KINDS[at] == "look-alike" and coded[i] and coded[j],
        )
        for at, (i, j), (masstone, mid, tint), step in zip(
            kind[kept].tolist(), pairs[kept].tolist(), apart[kept].tolist(), steps[kept].tolist(), strict=True
        )
    ]


def _kinds(painted: Sequence[Painted], pairs: Places, apart: Array, limits: Array) -> Places:
    """Return the kind of each pair by its number in ``KINDS``, -1 where nothing joins the two."""
    first, second = pairs.T
    read = np.isfinite(apart).any(axis=1)
    alike = np.asarray(read & ~(apart > limits).any(axis=1))
    codes = _numbered([code_set(one) for one in painted])
    names = _numbered([fold_name(one.paint.name) for one in painted])
    same = (codes[first] == codes[second]) & (codes[first] >= 0)
    told: tuple[tuple[Kind, NDArray[np.bool_]], ...] = (
        ("duplicate", same & alike),
        ("cousin", same & read),
        ("same codes, look unknown", same),
        ("look-alike", alike),
        ("same name only", names[first] == names[second]),
    )
    return np.select([so for _, so in told], [KINDS.index(kind) for kind, _ in told], -1)


def _worst(apart: Array) -> Array:
    """Return the largest of each row, infinite where nothing was read."""
    read = np.isfinite(apart)
    return np.where(read.any(axis=1), np.where(read, apart, -np.inf).max(axis=1), np.inf)


def _known(value: float) -> float | None:
    return None if isnan(value) else value


def _numbered(keys: Sequence[str] | Sequence[tuple[str, ...]]) -> Places:
    """Return a number for each key, the same for the same key, -1 for an empty one."""
    numbers: dict[object, int] = {}
    return np.array([numbers.setdefault(key, len(numbers)) if key else -1 for key in keys], dtype=np.intp)
