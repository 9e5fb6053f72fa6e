"""One small painted sheet for the tests of reading."""

from __future__ import annotations

import numpy as np
import pytest

from .small_sheet import paint, small_page

COLOURS = [
    (62, 35, 45), (38, 45, 20), (45, -30, 12), (55, -8, -32), (72, 4, 55), (30, 12, -38),
    (84, -2, 30), (50, 18, 30), (66, 28, -6), (35, 5, 8), (58, -24, 34), (44, 34, -22),
    (78, 14, 14), (52, 2, -3), (70, -18, -14), (40, 22, 28),
]  # fmt: skip


@pytest.fixture(scope="session")
def page():
    return small_page([f"paint-{k + 1}" for k in range(len(COLOURS))])


@pytest.fixture(scope="session")
def colours():
    return np.array(COLOURS, dtype=float)


@pytest.fixture(scope="session")
def painted(page, colours):
    return paint(page, list(colours))
