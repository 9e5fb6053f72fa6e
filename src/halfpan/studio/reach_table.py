"""What the paints of a studio reach by mixing, worked out once and kept until readings change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from halfpan.collection import paints
from halfpan.core.arranging.learnt_reach import learnt_reach
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.reach import ReachTable
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest, NotLearnt
from halfpan.files.reach import mark_of_reach, read_reach, write_reach
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.predict_mix import ground_of
from halfpan.studio.studio import Studio

KEPT_AS = "reach.npz"
MOST_PAINTS = 400  # all pairs of these take about a minute and 60 MB


@dataclass(frozen=True, slots=True, eq=False)
class Reaching:
    """All paints that can be mixed on paper here, numbered as in the table; wished ones that were read too.

    ``left_out`` are paints of which nothing was read.
    """

    table: ReachTable
    painted: tuple[Painted, ...]
    left_out: tuple[Paint, ...]
    learnt: Learnt
    ground: Lab

    @property
    def number(self) -> dict[str, int]:
        """The number of each paint, by its id."""
        return {one.paint.id: i for i, one in enumerate(self.painted)}

    def numbers(self, some: Sequence[Paint]) -> list[int]:
        """Return the numbers of those of some paints that can be mixed."""
        number = self.number
        return [number[one.id] for one in some if one.id in number]

    def owned(self) -> list[int]:
        """Return the numbers of the paints that are owned."""
        return [i for i, one in enumerate(self.painted) if one.paint.owned]


def reaching(studio: Studio, db: Connection, *, paper: str = "") -> Reaching:
    """Return the reach of everything that was read, from the kept table when nothing has changed.

    Raises
    ------
    BadRequest, NotLearnt
    """
    learnt = learnt_mixes(studio, db)
    everything = paints.listed(db)
    known = [one for one in everything if one.id in learnt.rows]
    if len(known) < 2:
        raise NotLearnt("Two paints must have been read before anything can be said of their mixes.")
    if len(known) > MOST_PAINTS:
        raise BadRequest(
            f"{len(known)} paints were read; all pairs are looked at up to {MOST_PAINTS} paints."
        )
    ids = [one.id for one in known]
    ground = ground_of(db, learnt, paper)
    mark = mark_of_reach(learnt, ids, ground)
    table = read_reach(studio.worked_out(KEPT_AS), mark)
    if table is None:
        table = learnt_reach(learnt, ids, ground=ground)
        write_reach(studio.workings / KEPT_AS, table, mark)
    left_out = tuple(one for one in everything if one.id not in learnt.rows)
    return Reaching(table, tuple(painted_paints(db, known)), left_out, learnt, ground)
