"""The reach of paints as they were learnt from readings: every pair, nine shares, five strengths."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.reach import ReachTable, reach_table
from halfpan.core.mixing.coats import colours
from halfpan.core.mixing.films import Films
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import PLAIN_PAPER
from halfpan.core.mixing.predict import FULL_STRENGTH
from halfpan.core.mixing.reach import SHARES, STRENGTHS
from halfpan.core.paint.reading import Lab

Array = NDArray[np.float64]
_PAIRS_AT_ONCE = 400


def learnt_reach(learnt: Learnt, paints: Sequence[str], *, ground: Lab = PLAIN_PAPER) -> ReachTable:
    """Return the reach table of some paints, numbered as given.

    Raises
    ------
    NotLearnt
        If nothing was read of one of them.
    """
    count = len(paints)
    pairs = np.array([(i, j) for i in range(count) for j in range(i, count)], dtype=np.intp).reshape(-1, 2)
    return reach_table(pairs, pair_colours(learnt, paints, pairs, ground=ground), count)


def pair_colours(
    learnt: Learnt,
    paints: Sequence[str],
    pairs: NDArray[np.intp],
    *,
    ground: Lab = PLAIN_PAPER,
    shares: Sequence[float] = SHARES,
    strengths: Sequence[float] = STRENGTHS,
) -> Array:
    """Return the colours of pairs of paints, shape (pairs, shares, strengths, 3), CIELAB.

    Parameters
    ----------
    learnt
        What is known of the paints.
    paints
        Their ids; ``pairs``, shape (n, 2), are numbers among them.
    ground
        The paper.
    shares, strengths
        Of the second paint; of a full-strength wash.

    Notes
    -----
    What the films say, without the pull of painted proof: reach is about many colours, and no pair gets
    ahead for having been painted.
    """
    learnt.require(paints)
    rows = np.array([learnt.rows[paint] for paint in paints], dtype=np.int64)
    coefficients = learnt.coefficients[rows]
    second = np.asarray(shares, dtype=float)[:, None] * np.asarray(strengths, dtype=float)[None]
    first = np.asarray(strengths, dtype=float)[None] - second
    steps = FULL_STRENGTH * np.stack([first, second], axis=-1).reshape(-1, 1, 2)  # (steps, layer, places)
    paper = ground_reflectance(ground)
    found = np.empty((len(pairs), len(steps), 3))
    for start in range(0, len(pairs), _PAIRS_AT_ONCE):
        block = np.asarray(pairs[start : start + _PAIRS_AT_ONCE], dtype=np.int64)
        films = Films(
            np.repeat(block[:, None, :], len(steps), axis=0),
            np.tile(steps, (len(block), 1, 1)),
            np.broadcast_to(paper, (len(block) * len(steps), len(paper))),
        )
        found[start : start + len(block)] = colours(films, coefficients, learnt.prior).reshape(
            len(block), len(steps), 3
        )
    return found.reshape(len(pairs), len(second), len(strengths), 3)
