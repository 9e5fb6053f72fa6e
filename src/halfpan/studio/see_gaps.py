"""What a tin or the whole collection cannot reach, and which wished paint would close most of it."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import paints
from halfpan.core.arranging.gaps import Gap, closes_most, gaps, lost_cells
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.reach import examples
from halfpan.core.arranging.ring import OnRing, RingGap, on_ring, ring_gaps
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.reach_table import Reaching, reaching
from halfpan.studio.studio import Studio

_EXAMPLES = 8


@dataclass(frozen=True, slots=True, eq=False)
class GapsSeen:
    """The reach of some paints held against a wider set.

    Attributes
    ----------
    share : float
        Of what the wider set reaches, which is ``wider_cells``.
    gaps : tuple of Gap
        By hue, value and strength of colour, most missing first.
    lost : tuple of Lab
        A few colours that stand for all that is missing.
    owned_would, wished_would : tuple of (id, cells)
        Paints of one's own that are not in the tin, and wished ones, that would bring most; ``unread`` are
        wishes nothing was read of, so that nothing can be said of them.
    ring, ring_gaps
        Where the paints stand on the hue ring, and where none stands.
    """

    wider: str
    share: float
    wider_cells: int
    gaps: tuple[Gap, ...]
    lost: tuple[Lab, ...]
    owned_would: tuple[tuple[str, int], ...]
    wished_would: tuple[tuple[str, int], ...]
    unread: tuple[str, ...]
    ring: tuple[OnRing, ...]
    ring_gaps: tuple[RingGap, ...]
    reaching: Reaching
    numbers: tuple[int, ...]
    paints: dict[str, Paint]


def see_gaps(studio: Studio, which: str = "all", *, paper: str = "") -> GapsSeen:
    """Return the gaps of a tin or list against everything owned, or of everything owned against the wishes.

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    with studio.look() as db:
        known = reaching(studio, db, paper=paper)
        offered = offered_paints(db, which)
        everything = paints.listed(db)
        painted: list[Painted] = painted_paints(db, offered)
    mine, owned = known.numbers(offered), known.owned()
    wishes = [i for i in range(len(known.painted)) if i not in owned]
    narrow = not set(owned) <= set(mine)
    wider = owned if narrow else list(range(len(known.painted)))
    lost = lost_cells(known.table, mine, wider)
    all_cells = known.table.count([*wider, *mine])
    ring = on_ring(painted)
    ids = [one.paint.id for one in known.painted]
    return GapsSeen(
        wider="everything owned" if narrow else "everything owned and the wishes that were read",
        share=1 - len(lost) / all_cells if all_cells else 0.0,
        wider_cells=all_cells,
        gaps=gaps(known.table, mine, wider),
        lost=tuple((float(L), float(a), float(b)) for L, a, b in lost[examples(lost, _EXAMPLES)]),
        owned_would=tuple((ids[i], cells) for i, cells in closes_most(known.table, mine, owned)),
        wished_would=tuple((ids[i], cells) for i, cells in closes_most(known.table, mine, wishes)),
        unread=tuple(one.id for one in known.left_out if not one.owned),
        ring=ring,
        ring_gaps=ring_gaps(ring),
        reaching=known,
        numbers=tuple(mine),
        paints={one.id: one for one in everything},
    )
