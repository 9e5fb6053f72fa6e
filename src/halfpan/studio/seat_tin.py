"""Seat the pans of a tin so that neighbours look right, and say which one looks odd where it sits."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
from sqlalchemy import Connection

from halfpan.collection import changes, paints, tins
from halfpan.collection.tins import Held, KeptTin
from halfpan.core.arranging.neighbours import Nearness, nearness_matrix
from halfpan.core.arranging.order import Family, OrderRule, place
from halfpan.core.arranging.seating import SPARE, OddPan, Seating, mean_step, odd_pans, seat_pans
from halfpan.core.arranging.steps import steps_between
from halfpan.core.arranging.wishes import SeatWishes, kept_apart, seat_costs
from halfpan.errors import BadRequest
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class Seated:
    """A tin after its pans were seated.

    ``step_before`` and ``step`` are the mean difference between neighbours (CIEDE2000). ``gap`` is how far
    the seating may lie above the best there is; 0 and ``proved`` when none is better. ``unread`` are paints
    placed by their pigment group, for want of a reading.
    """

    tin: KeptTin
    step_before: float
    step: float
    gap: float
    proved: bool
    unread: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OddSeat:
    """A pan that looks odd where it sits, by seat names, with the swap that helps most.

    ``swap_with`` may be a free seat (``free``): then the pan moves there.
    """

    seat: str
    paint: str
    step: float
    usual: float
    swap_with: str | None
    gain: float
    free: bool = False


def seat_tin(
    studio: Studio,
    named: str,
    *,
    now: datetime,
    nearness: Nearness | None = None,
    wishes: SeatWishes | None = None,
    spare_anywhere: bool = False,
    prove: bool = False,
    tries: int = 1,
) -> Seated:
    """Seat the pans of a tin anew, keeping locked seats, and return it.

    ``tries`` is how many beginnings are searched from; small tins need one. ``wishes`` say who goes into
    which size of pan, and whether yellows are kept from what would soil them. Spare seats stay at the end of
    the tin unless they may fall anywhere, where they part what is unlike.
    """
    with studio.transaction() as db:
        tin = tins.find(db, named)
        board = _board(db, tin, nearness or Nearness())
        if board.count < 2:
            raise BadRequest(f"The tin “{tin.name}” holds {board.count} pans; seating needs two or more.")
        locked = {i: int(pan) for i, pan in enumerate(board.pans) if board.held[i].locked}
        if not spare_anywhere:
            locked |= _spares_at_the_end(board, locked)
        asked = wishes or SeatWishes()
        steps = kept_apart(board.steps, board.families, asked)
        cost = seat_costs(board.paints, [tin.tin.seats[i] for i in board.open_], asked)
        seating = _best_of(tries, board, steps, cost, locked=locked, prove=prove)
        ids = [None if pan == SPARE else board.paints[pan] for pan in seating.pans]
        held = {
            seat: Held(paint, board.held[i].locked, board.held[i].note if board.held[i].locked else "")
            for i, (seat, paint) in enumerate(zip(board.seats, ids, strict=True))
        }
        with changes.noted(db, f"seated the tin {tin.name}", now=now):
            tins.seat(db, tin.id, held)
        return Seated(
            tins.find(db, tin.id),
            mean_step(board.pans, board.steps, board.nearness),
            mean_step(seating.pans, board.steps, board.nearness),
            seating.gap,
            seating.proved,
            board.unread,
        )


def _best_of(
    tries: int,
    board: _Board,
    steps: np.ndarray,
    seat_cost: np.ndarray,
    *,
    locked: dict[int, int],
    prove: bool,
) -> Seating:
    """Return the best of several searches, each from its own beginning; never worse than what is there."""
    found = [
        seat_pans(
            steps,
            board.nearness,
            seat_cost=seat_cost,
            locked=locked,
            seed=seed,
            prove=prove,
            start=board.pans,
        )
        for seed in range(max(1, tries))
    ]
    return min(found, key=lambda one: one.cost)


def odd_seats(studio: Studio, named: str) -> tuple[OddSeat, ...]:
    """Return the pans of a tin that look odd where they sit, oddest first."""
    with studio.look() as db:
        board = _board(db, tins.find(db, named), Nearness(turn=0.0))
    if board.count < 3:
        return ()
    locked = [i for i, held in enumerate(board.held) if held.locked]
    odd = odd_pans(board.pans, board.steps, board.nearness, locked=locked)
    return tuple(_named(one, board) for one in odd)


def _named(odd: OddPan, board: _Board) -> OddSeat:
    swap = None if odd.swap_with is None else board.seats[odd.swap_with]
    paint = board.paints[board.pans[odd.seat]]
    free = odd.swap_with is not None and bool(board.pans[odd.swap_with] == SPARE)
    return OddSeat(board.seats[odd.seat], paint, odd.step, odd.usual, swap, odd.gain, free)


@dataclass(frozen=True, slots=True, eq=False)
class _Board:
    """A tin as numbers: seats that take a pan, who sits there, steps between paints, nearness of seats."""

    open_: tuple[int, ...]
    seats: tuple[str, ...]
    held: tuple[Held, ...]
    pans: np.ndarray
    paints: tuple[str, ...]
    steps: np.ndarray
    nearness: np.ndarray
    unread: tuple[str, ...]
    families: tuple[Family, ...]

    @property
    def count(self) -> int:
        return len(self.paints)


def _board(db: Connection, tin: KeptTin, nearness: Nearness) -> _Board:
    layout = tin.tin
    open_ = [i for i, seat in enumerate(layout.seats) if seat.size is not None]
    held = tuple(tin.held.get(layout.seats[i].name, Held()) for i in open_)
    painted = painted_paints(db, paints.of_ids(db, list(tin.paints)))
    ids = tuple(one.paint.id for one in painted)
    steps, unread = steps_between(painted)
    where = {paint: i for i, paint in enumerate(ids)}
    pans = np.array([SPARE if one.paint is None else where[one.paint] for one in held], dtype=np.intp)
    near = nearness_matrix(layout, nearness)[np.ix_(open_, open_)]
    names = tuple(layout.seats[i].name for i in open_)
    families = tuple(place(one, OrderRule()).family for one in painted)
    return _Board(tuple(open_), names, held, pans, ids, steps, near, unread, families)


def _spares_at_the_end(board: _Board, locked: dict[int, int]) -> dict[int, int]:
    spare = len(board.seats) - board.count - sum(pan == SPARE for pan in locked.values())
    free = [i for i in range(len(board.seats)) if i not in locked]
    return dict.fromkeys(free[len(free) - spare :], SPARE) if spare else {}
