"""Opposites, of two kinds that are not the same: pairs that look opposite, and pairs that mix to grey.

Visual opposites lie across the hue circle at mid strength. Mixing opposites are pairs whose mixes pass close
to grey; painted proof comes before predictions. Darks are the deepest mixes, near-neutral ones marked.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.colour.spaces import lab_to_lch

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PairMix:
    """A mix of two paints: shares of the second, its colour, its 95 % radius, painted or foretold."""

    first: str
    second: str
    share: float
    lab: tuple[float, float, float]
    within_delta_e00: float | None
    painted: bool

    @property
    def chroma(self) -> float:
        """C*ab: how far from grey."""
        return float(np.hypot(self.lab[1], self.lab[2]))


@dataclass(frozen=True, slots=True)
class Opposite:
    """Two paints whose hues at mid strength lie across the circle, ``off`` degrees short of exactly."""

    first: str
    second: str
    off: float


def visual_opposites(painted: Sequence[Painted], *, within: float = 12.0) -> tuple[Opposite, ...]:
    """Return the pairs that look opposite side by side, the most exact first; greys have no opposite."""
    mids = colours(painted)[:, 1]
    read = [i for i in range(len(painted)) if np.isfinite(mids[i]).all() and np.hypot(*mids[i, 1:]) >= 8]
    hue = lab_to_lch(mids)[:, 2]
    found = [
        Opposite(painted[i].paint.id, painted[j].paint.id, float(off))
        for at, i in enumerate(read)
        for j in read[at + 1 :]
        if (off := abs(abs((hue[i] - hue[j] + 180) % 360 - 180) - 180)) <= within
    ]
    return tuple(sorted(found, key=lambda pair: pair.off))


def along_pairs(
    pairs: Sequence[tuple[str, str]], shares: ArrayLike, lab: ArrayLike, within: ArrayLike
) -> tuple[PairMix, ...]:
    """Return predictions as mixes.

    Parameters
    ----------
    pairs
        Two paint ids each.
    shares : array, shape (k,), of the second paint
    lab : array, shape (pairs, k, 3), CIELAB at full strength
    within : array, shape (pairs, k), 95 % radius
    """
    labs, radii = np.asarray(lab, dtype=float), np.asarray(within, dtype=float)
    return tuple(
        PairMix(
            first, second, float(share), (float(L), float(a), float(b)), float(radii[p, k]), painted=False
        )
        for p, (first, second) in enumerate(pairs)
        for k, (share, (L, a, b)) in enumerate(zip(np.asarray(shares), labs[p], strict=True))
        if 0 < share < 1
    )


NEUTRAL = 15.0  # C* up to which a mix is near enough to grey to be named: Halfpan's own threshold
DARK = 45.0  # L* up to which a mix is dark enough to be named a dark, likewise


def cleanest_greys(
    mixes: Sequence[PairMix], count: int = 10, *, light: float = 65.0, neutral: float = NEUTRAL
) -> tuple[PairMix, ...]:
    """Return each pair's greyest mix no lighter than ``light``: painted ones first, then foretold ones.

    A mix of more chroma than ``neutral`` is no grey, painted or not.
    """
    fitting = [mix for mix in mixes if mix.lab[0] <= light and mix.chroma <= neutral]
    return _best_of_each_pair(fitting, lambda mix: mix.chroma)[:count]


def darkest_darks(
    mixes: Sequence[PairMix], count: int = 10, *, neutral: float | None = NEUTRAL, dark: float = DARK
) -> tuple[PairMix, ...]:
    """Return each pair's deepest mix, of chroma up to ``neutral`` (None: any), painted ones first.

    A mix lighter than ``dark`` is no dark, painted or not.
    """
    fitting = [mix for mix in mixes if mix.lab[0] <= dark and (neutral is None or mix.chroma <= neutral)]
    return _best_of_each_pair(fitting, lambda mix: mix.lab[0])[:count]


def _best_of_each_pair(mixes: Sequence[PairMix], worth: Callable[[PairMix], float]) -> tuple[PairMix, ...]:
    best: dict[tuple[frozenset[str], bool], PairMix] = {}
    for mix in mixes:
        key = (frozenset({mix.first, mix.second}), mix.painted)
        if key not in best or worth(mix) < worth(best[key]):
            best[key] = mix
    proved = {pair for pair, painted in best if painted}
    shown = [mix for (pair, painted), mix in best.items() if painted or pair not in proved]
    return tuple(sorted(shown, key=lambda mix: (not mix.painted, worth(mix))))
