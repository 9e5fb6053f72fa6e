"""Choose the few paints whose mixes reach most, under the painter's own demands."""

from __future__ import annotations

from dataclasses import dataclass
from time import monotonic

from halfpan.collection import paints
from halfpan.core.arranging.choosing import Choice, choice_of, choose
from halfpan.core.arranging.choosing_proof import prove_choice
from halfpan.core.arranging.demands import Demands, Passed, conditions_of
from halfpan.core.arranging.gaps import lost_cells
from halfpan.core.arranging.reach import examples
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab
from halfpan.errors import BadRequest
from halfpan.studio.find_paint import find_paints
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.reach_table import reaching
from halfpan.studio.studio import Studio

LEAST, MOST = 1, 24
_EXAMPLES = 8


@dataclass(frozen=True, slots=True)
class Chosen:
    """One set: its paints by id, and colours that stand for what it loses against all that is owned.

    ``share_of_owned`` is its reach as a share of that of everything owned and read, of ``owned_cells``.
    """

    paints: tuple[str, ...]
    choice: Choice
    share_of_owned: float
    lost: tuple[Lab, ...]
    lost_cells: int
    owned_cells: int
    add_next: tuple[str, int] | None
    drop_next: tuple[str, int] | None


@dataclass(frozen=True, slots=True)
class ChoiceAnswer:
    """Good sets, best first.

    When proof was asked for, no set can pass ``bound`` cells.
    ``left_out`` are paints nothing was read of; ``passed`` says who was refused and of whom the witness is
    silent.
    """

    sets: tuple[Chosen, ...]
    passed: Passed
    left_out: tuple[str, ...]
    paints: dict[str, Paint]
    bound: int | None = None


def choose_paints(
    studio: Studio,
    count: int,
    demands: Demands | None = None,
    *,
    among: str = "all",
    wished: bool = False,
    sets: int = 3,
    prove_seconds: float | None = None,
    paper: str = "",
) -> ChoiceAnswer:
    """Choose ``count`` paints out of all that are owned, a tin or a list.

    ``wished`` lets wishes in that were read, from a dot card say. With ``prove_seconds`` it is
    proved for so long that no set reaches more, or what none can pass.

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    if not LEAST <= count <= MOST:
        raise BadRequest(f"A choice is of {LEAST} to {MOST} paints.")
    asked = demands or Demands()
    with studio.look() as db:
        known = reaching(studio, db, paper=paper)
        offered = offered_paints(db, among)
        everything = {one.id: one for one in paints.listed(db)}
    wishes = [one for one in everything.values() if not one.owned] if wished else []
    looked_at = [*dict.fromkeys(known.numbers([*offered, *wishes]))]
    passed = conditions_of(known.painted, asked, looked_at)
    ids = [one.paint.id for one in known.painted]
    missing = asked.must - set(ids)
    if missing:
        named = ", ".join(everything[one].name for one in sorted(missing))
        raise BadRequest(f"Nothing was read of {named}, so its mixes are unknown: read its swatch first.")
    found = choose(known.table, count, passed.conditions, sets=sets)
    proof = None
    if prove_seconds is not None:
        proof = prove_choice(known.table, count, passed.conditions, seconds=prove_seconds, clock=monotonic)
        if proof.cells > found[0].cells:
            found = (choice_of(known.table, proof.paints, passed.conditions), *found[: sets - 1])
    owned = known.owned()
    all_cells = known.table.count(owned)
    chosen = []
    for choice in found:
        lost = lost_cells(known.table, choice.paints, owned)
        shown = lost[examples(lost, _EXAMPLES)]
        chosen.append(
            Chosen(
                tuple(ids[i] for i in choice.paints),
                choice,
                1 - len(lost) / all_cells if all_cells else 0.0,
                tuple((float(L), float(a), float(b)) for L, a, b in shown),
                len(lost),
                all_cells,
                None if choice.add_next is None else (ids[choice.add_next[0]], choice.add_next[1]),
                None if choice.drop_next is None else (ids[choice.drop_next[0]], choice.drop_next[1]),
            )
        )
    left_out = tuple(one.id for one in offered if one.id not in set(ids))
    return ChoiceAnswer(tuple(chosen), passed, left_out, everything, proof.bound if proof else None)


def demanded_ids(studio: Studio, texts: list[str]) -> frozenset[str]:
    """Return the ids of paints that must, or must not, be in a set."""
    with studio.look() as db:
        return frozenset(one.id for one in find_paints(db, texts))
