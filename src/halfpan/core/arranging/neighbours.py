"""Which seats of a tin lie beside one another, and how much each nearness counts."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from halfpan.core.paint.tin import Seat, Tin


@dataclass(frozen=True, slots=True)
class Nearness:
    """How much a step counts: along a row, across to the next row, and from a row's end to the next start."""

    along: float = 1.0
    across: float = 1.0
    turn: float = 0.25


def nearness_matrix(tin: Tin, nearness: Nearness = Nearness()) -> NDArray[np.float64]:
    """Return the symmetric matrix, shape (seats, seats), of how much each pair of seats counts as neighbours.

    Blanks are no neighbours of anything. Seats of one row are neighbours when nothing but metal lies between
    them; seats of two rows when they face each other over at least a third of the narrower one.
    """
    n = len(tin.seats)
    matrix = np.zeros((n, n))
    for i, first in enumerate(tin.seats):
        for j in range(i + 1, n):
            weight = _weight(first, tin.seats[j], adjacent=j == i + 1, nearness=nearness)
            matrix[i, j] = matrix[j, i] = weight
    for end, start in _turns(tin):
        matrix[end, start] = matrix[start, end] = max(matrix[end, start], nearness.turn)
    return matrix


def _weight(first: Seat, second: Seat, *, adjacent: bool, nearness: Nearness) -> float:
    if first.size is None or second.size is None:
        return 0.0
    if first.row == second.row:
        return nearness.along if adjacent else 0.0
    if second.row != first.row + 1:
        return 0.0
    facing = min(first.x + first.width, second.x + second.width) - max(first.x, second.x)
    return nearness.across if facing > min(first.width, second.width) / 3 else 0.0


def _turns(tin: Tin) -> list[tuple[int, int]]:
    """Return the last seat of each row with the first seat of the next."""
    rows: dict[int, list[int]] = {}
    for i, seat in enumerate(tin.seats):
        if seat.size is not None:
            rows.setdefault(seat.row, []).append(i)
    ordered = [rows[row] for row in sorted(rows)]
    return [(upper[-1], lower[0]) for upper, lower in pairwise(ordered)]
