"""The best seating of a small tin, proved by dynamic programming over the edge of what is seated."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Places = NDArray[np.intp]
Keys = NDArray[np.int64]

MOST_SEATS_PROVED = 12
_MOST_OPEN = 4
_BITS = 4  # of a key for each open seat: fewer than 16 paints


def seat_exactly(difference: Array, nearness: Array, seat_cost: Array) -> Places | None:
    """Return the seating of least cost, or none when the tin is too large or too tangled to prove it.

    Parameters
    ----------
    difference, seat_cost : array, shape (n, n), n at most ``MOST_SEATS_PROVED``; ``inf`` in seat_cost forbids
    nearness : array, shape (n, n)

    Returns
    -------
    array, shape (n,), paint of each seat, or none

    Notes
    -----
    Seats are filled in an order that keeps few of them open (seated, with an unseated neighbour). A state is
    the set of seated paints and who sits in the open seats; of all ways to a state only the cheapest goes on.
    """
    order = _narrow_order(nearness)
    layers = [_Layer(np.zeros(1, np.int64), np.zeros((1, 0), np.intp), np.zeros(1), None, None)]
    open_seats: tuple[int, ...] = ()
    for position, seat in enumerate(order):
        later = order[position + 1 :]
        weights = np.array([nearness[seat, other] for other in open_seats])
        widened = (*open_seats, seat)
        keep = [k for k, other in enumerate(widened) if any(nearness[other, s] > 0 for s in later)]
        if len(keep) > _MOST_OPEN:
            return None
        layers.append(_seat_one(layers[-1], difference, seat_cost[:, seat], weights, keep))
        open_seats = tuple(widened[k] for k in keep)
        if not len(layers[-1].cost):
            return None
    pans = np.empty(len(order), dtype=np.intp)
    pans[order] = _way(layers)
    return pans


@dataclass(frozen=True, slots=True, eq=False)
class _Layer:
    """The cheapest ways to seat so many pans: who is seated, who in open seats, cost, and whence."""

    seated: Keys
    edge: Places
    cost: Array
    parent: Places | None
    paint: Places | None


def _way(layers: list[_Layer]) -> list[int]:
    state, paints = int(np.argmin(layers[-1].cost)), []
    for layer in reversed(layers[1:]):
        assert layer.parent is not None
        assert layer.paint is not None
        paints.append(int(layer.paint[state]))
        state = int(layer.parent[state])
    return paints[::-1]


def _narrow_order(nearness: Array) -> list[int]:
    """Return an order of the seats that keeps few open: always the seat that leaves fewest open."""
    linked = nearness > 0
    left = set(range(len(linked)))
    order: list[int] = []
    while left:
        seat = min(left, key=lambda s: (_open_after(linked, order, s), s))
        order.append(seat)
        left.remove(seat)
    return order


def _open_after(linked: NDArray[np.bool_], order: list[int], seat: int) -> int:
    seated = {*order, seat}
    return sum(any(linked[s, other] and other not in seated for other in range(len(linked))) for s in seated)


def _seat_one(layer: _Layer, difference: Array, cost: Array, weights: Array, keep: list[int]) -> _Layer:
    """Return the next layer: every state with every paint that may still sit down, cheapest way each."""
    state, paint = np.nonzero(
        (layer.seated[:, None] >> np.arange(len(cost)) & 1 == 0) & np.isfinite(cost)[None, :],
    )
    edge = layer.edge[state]
    total = layer.cost[state] + cost[paint] + difference[edge, paint[:, None]] @ weights
    seated = layer.seated[state] | np.int64(1) << paint
    edge = np.column_stack([edge, paint])[:, keep]
    key = seated
    for column in edge.T:
        key = key << _BITS | column
    order = np.lexsort((total, key))
    first = order[np.concatenate([[True], np.diff(key[order]) != 0])] if len(order) else order
    return _Layer(seated[first], edge[first], total[first], state[first], paint[first])
