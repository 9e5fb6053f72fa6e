"""The two colours at the ends of the longest doubt of a prediction, to be drawn beside the best guess."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.difference import metric_2000

Floats = NDArray[np.float64]

_NINETY_FIVE = 1.959964  # two-sided 95 % of a normal distribution


def ends_of_doubt(lab: Floats, covariance: Floats) -> tuple[Floats, Floats]:
    """Return the colours at both ends of the longest axis of each prediction's doubt.

    Parameters
    ----------
    lab : array (n, 3)
        Predicted colours, CIELAB.
    covariance : array (n, 3, 3)
        Their covariance in CIEDE2000, as in `Spread`.

    Returns
    -------
    tuple of arrays (n, 3)
        Along that axis 95 % of painted boxes fall between the two. All first ends lie on the same side as
        the first one's, so that a ladder of strengths has two sides and not a zigzag.
    """
    values, axes = np.linalg.eigh(covariance)
    step = axes[:, :, -1] * (np.sqrt(np.maximum(values[:, -1], 0.0)) * _NINETY_FIVE)[:, None]
    step = np.linalg.solve(metric_2000(lab), step[:, :, None])[:, :, 0]
    for i in range(1, len(step)):
        if step[i] @ step[i - 1] < 0:
            step[i] = -step[i]
    return lab - step, lab + step
