"""Which of one's own paints, in what parts, look like a mixed paint at every strength."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.match import match_colour
from halfpan.core.mixing.near import approach
from halfpan.core.mixing.observation import PLAIN_PAPER
from halfpan.core.paint.reading import Lab


@dataclass(frozen=True, slots=True)
class Likely:
    """Parts that look alike at all strengths read: the miss at each, strongest first, and their mean."""

    parts: tuple[tuple[str, int], ...]
    apart_each: tuple[float, ...]
    apart: float


def identify_by_mixing(
    learnt: Learnt,
    colours: Sequence[Lab],
    paints: Sequence[str],
    *,
    most: int = 3,
    ground: Lab = PLAIN_PAPER,
    count: int = 8,
) -> tuple[Likely, ...]:
    """Find mixes of single paints that follow a mixed paint from masstone to tint.

    ``colours`` are those of the mixed paint at one to several strengths. One mix must serve all of them,
    only its strength may differ. Likeness of colour is no proof of what is in the tube.
    """
    offered = dict.fromkeys(
        m.parts
        for lab in colours
        for m in match_colour(learnt, lab, paints, most=most, ground=ground, count=60)
    )
    found = [
        _at_every_strength(learnt, [p for p in offered if len(p) == size], colours, ground)
        for size in range(1, most + 1)
    ]
    return tuple(sorted((one for some in found for one in some), key=lambda one: one.apart)[:count])


def _at_every_strength(
    learnt: Learnt, mixes: Sequence[tuple[tuple[str, int], ...]], colours: Sequence[Lab], ground: Lab
) -> list[Likely]:
    """Find the strength of each mix that comes nearest to each colour."""
    if not mixes:
        return []
    paints = np.array([[learnt.rows[p] for p, _ in parts] for parts in mixes], dtype=np.int64)
    amounts = np.array([[n for _, n in parts] for parts in mixes], dtype=np.float64)
    paper = ground_reflectance(ground)
    apart = np.stack(
        [
            delta_e_2000(
                approach(
                    learnt, np.array(lab), paper, paints=paints, amounts=amounts, only_strength=True
                ).lab,
                np.array(lab),
            )
            for lab in colours
        ],
        axis=1,
    )
    return [
        Likely(parts, tuple(row.tolist()), float(row.mean())) for parts, row in zip(mixes, apart, strict=True)
    ]
