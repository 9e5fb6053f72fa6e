"""Which box stands where: families kept together, spare boxes beside the family they follow."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from halfpan.core.chart.label import BoxLabel

Cells = tuple[BoxLabel | None, ...]
"""The boxes of one page, row by row; None is a spare box."""

PAGE, OVER_PAGE, OVER_ROW, LONE, RUN_ON, SPARE = 40.0, 12.0, 3.0, 1.5, 0.6, 0.05
"""What a further page costs, a family cut by a page or by a row it need not fill, one box left alone in a
row, a family that starts in mid-row, a spare box. Judgement, weighed by eye."""


def in_rows(labels: Sequence[BoxLabel], *, columns: int, rows: int, spare: int = 0) -> list[Cells]:
    """Set boxes on pages in the order given.

    Parameters
    ----------
    labels : the boxes; neighbours of the same ``family`` are kept together
    columns, rows : of a page
    spare : boxes that must stay free after the last

    Notes
    -----
    Each family runs on, starts a row or starts a page: the cheapest choice for all families together,
    found by dynamic programming over the place where each ends. Every page is filled up with spare boxes.
    """
    page = columns * rows
    families = [tuple(run) for _, run in groupby(labels, key=lambda label: label.family)]
    ways: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
    for family in families:
        reached: dict[int, tuple[float, tuple[int, ...]]] = {}
        for end, (cost, starts) in ways.items():
            for start in {end, -(-end // columns) * columns, -(-end // page) * page}:
                total = cost + _cost(start, len(family), columns, page) + SPARE * (start - end)
                stop = start + len(family)
                if stop not in reached or total < reached[stop][0]:
                    reached[stop] = (total, (*starts, start))
        ways = reached
    end, (_, starts) = min(
        ways.items(), key=lambda way: way[1][0] + PAGE * max(1, -(-(way[0] + spare) // page))
    )
    cells: list[BoxLabel | None] = [None] * (page * max(1, -(-(end + spare) // page)))
    for family, start in zip(families, starts, strict=True):
        cells[start : start + len(family)] = family
    return [tuple(cells[k : k + page]) for k in range(0, len(cells), page)]


def _cost(start: int, count: int, columns: int, page: int) -> float:
    """Say what it costs to set one family of so many boxes from a place on."""
    last = start + count - 1
    needed = -(-count // columns)
    rows = last // columns - start // columns + 1
    cost = OVER_PAGE * (last // page - start // page) + OVER_ROW * (rows - needed)
    if start % columns:
        cost += RUN_ON
    first_row = min(count, columns - start % columns)
    if rows > 1 and (first_row == 1 or (last + 1) % columns == 1):
        cost += LONE
    return cost


def in_plan(
    labels: Sequence[BoxLabel | None], *, columns: int, rows: int, upside_down: bool = False
) -> list[Cells]:
    """Set boxes as pans sit in a tin: seat by seat, row by row, or as seen with the tin turned round.

    A seat without a paint is a spare box. More labels than seats go on to further pages.
    """
    seats = columns * rows
    count = max(1, -(-len(labels) // seats))
    filled = [*labels, *[None] * (count * seats - len(labels))]
    pages = [tuple(filled[k * seats : (k + 1) * seats]) for k in range(count)]
    return [page[::-1] for page in pages] if upside_down else pages
