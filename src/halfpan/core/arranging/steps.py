"""How far apart paints look when their pans lie side by side: the step that seating makes small.

Painted paints are compared at full strength, mid and tint (mean CIEDE2000 of the strengths both have). A
paint that was not painted yet is placed by its pigment group in the proposed order, and that is said.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.order import in_order
from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.colour.difference import delta_e_2000

Array = NDArray[np.float64]

STEP_OF_A_PLACE = 4.0  # CIEDE2000 that one place in the proposed order stands for: Halfpan's own guess


def steps_between(painted: Sequence[Painted]) -> tuple[Array, tuple[str, ...]]:
    """Return the steps between paints and the ids of those that were placed by pigment group alone.

    Returns
    -------
    steps : array, shape (n, n), symmetric, 0 on the diagonal
    unread : ids of paints without a reading
    """
    labs = colours(painted)
    given: NDArray[np.bool_] = np.asarray(np.isfinite(labs).all(axis=-1))
    safe = np.where(given[..., None], labs, 0.0)
    each = delta_e_2000(safe[:, None], safe[None])
    both = given[:, None] & given[None]
    counted = both.sum(axis=-1)
    steps = np.where(both, each, 0.0).sum(axis=-1) / np.maximum(counted, 1)
    guessed = counted == 0
    if guessed.any():
        steps = np.where(guessed, _by_place(painted), steps)
    np.fill_diagonal(steps, 0.0)
    unread = tuple(one.paint.id for one, has in zip(painted, given, strict=True) if not has.any())
    return steps, unread


def _by_place(painted: Sequence[Painted]) -> Array:
    """Return the steps that places in the proposed order stand for; far places are all equally far."""
    at = {entry.paint: i for i, entry in enumerate(in_order(painted))}
    place = np.array([at[one.paint.id] for one in painted], dtype=float)
    return np.minimum(np.abs(place[:, None] - place[None]), 12) * STEP_OF_A_PLACE
