"""A new paint: its place in the painter's own order, and the charts that it makes out of date.

The order itself is only read. A place is proposed with both neighbours; how little has to be repainted is
said for each chart, and the painter decides.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.order import OrderRule, places
from halfpan.core.arranging.painted import Painted, colours
from halfpan.core.colour.difference import delta_e_2000

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Gap:
    """A place in an order: between two paints, or at an end; and what it rests on."""

    index: int
    before: str | None
    after: str | None
    basis: Literal["reading", "family", "nothing"]


@dataclass(frozen=True, slots=True)
class ChartOrder:
    """What stands in a chart's boxes, in their order; none is a spare box. A grid crosses all with all."""

    chart: str
    boxes: tuple[str | None, ...]
    grid: bool = False


@dataclass(frozen=True, slots=True)
class Repaint:
    """How little brings a chart up to date: in a spare box or beside it, and in the right place.

    ``at`` is the place, counted from 0, of the box where the new paint would stand.
    """

    chart: str
    fewest: int
    in_place: int
    how: str
    at: int = 0


def place_newcomer(
    order: Sequence[str], newcomer: Painted, others: Mapping[str, Painted], rule: OrderRule | None = None
) -> Gap:
    """Return where a new paint would stand in an existing order.

    Parameters
    ----------
    order : sequence of str
        The painter's own order, by paint; it may differ from Halfpan's as it likes.
    newcomer : Painted
    others : mapping
        What is known of the paints of the order.

    Notes
    -----
    With readings: the gap where the colour steps at mid strength grow least, beside a paint of its own
    family if there is one. Without: the gap that keeps most of the families in sequence.
    """
    (gap,) = place_newcomers(order, [newcomer], others, rule)
    return gap


def place_newcomers(
    order: Sequence[str],
    newcomers: Sequence[Painted],
    others: Mapping[str, Painted],
    rule: OrderRule | None = None,
) -> tuple[Gap, ...]:
    """Return where each of some new paints would stand, were it the only one; see `place_newcomer`."""
    used = rule or OrderRule()
    known = {at: others[paint] for at, paint in enumerate(order) if paint in others}
    placed = places([*newcomers, *known.values()], used)
    own, rest = placed[: len(newcomers)], placed[len(newcomers) :]
    turns = {key: turn for turn, key in enumerate(sorted({one.key for one in placed}))}
    turn = np.full(len(order), -1)
    turn[list(known)] = [turns[one.key] for one in rest]
    family = np.array([""] * len(order), dtype=object)
    family[list(known)] = [one.family for one in rest]
    mids = np.full((len(order), 3), np.nan)
    if known:
        mids[list(known)] = colours(list(known.values()))[:, 1]
    read = bool(np.isfinite(mids).all(axis=1).any())
    gaps = []
    for one, mid in zip(own, colours(list(newcomers))[:, 1] if newcomers else (), strict=True):
        if read and np.isfinite(mid).all():
            gaps.append(_gap(order, _cheapest(mids, mid, family == one.family), "reading"))
        elif not order or one.family == "unplaced":
            gaps.append(_gap(order, len(order), "nothing"))
        else:
            gaps.append(_gap(order, _least_faults(turn, turns[one.key]), "family"))
    return tuple(gaps)


def _least_faults(turn: NDArray[np.intp], own: int) -> int:
    """Return the last gap with fewest paints on the wrong side; ``turn`` is -1 where nothing is known."""
    later = (turn > own).astype(int)
    earlier = ((turn >= 0) & (turn < own)).astype(int)
    faults = np.concatenate([[0], np.cumsum(later)]) + np.concatenate([np.cumsum(earlier[::-1])[::-1], [0]])
    return len(faults) - 1 - int(np.argmin(faults[::-1]))


def outdated(charts: Sequence[ChartOrder], newcomer: str, gap: Gap) -> tuple[Repaint, ...]:
    """Return the charts that show a neighbour of the new paint but not itself, and the smallest repaint."""
    neighbours = {gap.before, gap.after} - {None}
    stale = [c for c in charts if neighbours & set(c.boxes) and newcomer not in c.boxes]
    return tuple(_grid(chart) if chart.grid else _repaint(chart, gap) for chart in stale)


def _gap(order: Sequence[str], index: int, basis: Literal["reading", "family", "nothing"]) -> Gap:
    before = order[index - 1] if index > 0 else None
    after = order[index] if index < len(order) else None
    return Gap(index, before, after, basis)


def _cheapest(mids: Array, mid: Array, beside: NDArray[np.bool_]) -> int:
    """Return the gap where the path grows least; unread paints keep their place and cost nothing."""
    read = np.flatnonzero(np.isfinite(mids).all(axis=1))
    to_new = delta_e_2000(mids[read], mid)
    steps = delta_e_2000(mids[read][:-1], mids[read][1:])
    cost = np.concatenate([[to_new[0]], to_new[:-1] + to_new[1:] - steps, [to_new[-1]]])
    own = beside[read]
    near = np.concatenate([own, [False]]) | np.concatenate([[False], own])
    cost = np.where(near, cost, np.inf) if near.any() else cost
    best = int(np.argmin(cost))
    return int(read[best - 1]) + 1 if best > 0 else int(read[0])


def _grid(chart: ChartOrder) -> Repaint:
    paints = sum(1 for paint in chart.boxes if paint is not None)
    return Repaint(chart.chart, paints + 1, paints + 1, f"one new row of {paints + 1} boxes")


def _repaint(chart: ChartOrder, gap: Gap) -> Repaint:
    boxes = chart.boxes
    start = boxes.index(gap.before) + 1 if gap.before in boxes else boxes.index(gap.after)
    spares = [i for i, paint in enumerate(boxes) if paint is None]
    shifts = {i: i - start + 1 if i >= start else start - i for i in spares}
    in_place = min(shifts.values(), default=len(boxes) - start + 1)
    words = "1 box" if in_place == 1 else f"1 box, or {in_place} to have it in its place"
    if spares:
        nearest = min(spares, key=lambda i: shifts[i])
        return Repaint(chart.chart, 1, in_place, f"{words}; box {nearest + 1} is spare", start)
    return Repaint(chart.chart, 1, in_place, f"{words}; no box is spare, so on a sheet of its own", start)
