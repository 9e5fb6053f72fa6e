"""Plan which boxes of mixes to paint next, from what is not known yet."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from halfpan.collection import paints
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import Recipe, Wash
from halfpan.core.mixing.plan import Plan, every_pair, plan_boxes
from halfpan.core.mixing.predict import FULL_STRENGTH, from_parts
from halfpan.errors import BadRequest, NotLearnt
from halfpan.studio.find_paint import find_paint
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.paint_names import names_of
from halfpan.studio.painted_films import usual_paper
from halfpan.studio.studio import Studio

MOST_BOXES = 200
PARTS = ((1.0, 1.0), (1.0, 2.0), (2.0, 1.0), (1.0, 4.0), (4.0, 1.0))


@dataclass(frozen=True, slots=True)
class BoxPlan:
    """The plan, what paints are called, and which were left out as unread.

    ``by_parts``: boxes are full-strength washes of whole parts, not of measured amounts.
    """

    plan: Plan
    unit: float
    names: dict[str, str]
    left_out: tuple[str, ...]
    by_parts: bool

    def washes(self) -> list[Wash]:
        """Return the boxes as parts, or as amounts in the unit of the readings."""
        boxes = [box.layers[0] for box in self.plan.boxes]
        return [in_parts(wash) for wash in boxes] if self.by_parts else boxes


def in_parts(wash: Wash) -> Wash:
    """Return a wash in the smallest whole parts that are right within a twentieth of the least."""
    least = min(amount for _, amount in wash)
    for times in range(1, 9):
        exact = [amount / least * times for _, amount in wash]
        if all(abs(parts - round(parts)) <= 0.05 * times for parts in exact):
            break
    return tuple((paint, float(round(parts))) for (paint, _), parts in zip(wash, exact, strict=True))


def plan_mixes(
    studio: Studio,
    *,
    boxes: int = 13,
    among: str = "all",
    new_tube: str = "",
    by_parts: bool | None = None,
) -> BoxPlan:
    """Choose the boxes that teach most about all mixes of some paints.

    Parameters
    ----------
    studio : Studio
    boxes : how many
    among : ``all`` that are owned, a tin, a list in a file, or ids and names with commas between them
    new_tube : a paint: only boxes with it, chosen to tell most about its mixes with the others
    by_parts : full-strength washes by parts rather than measured amounts; as the swatches were, if not said

    Raises
    ------
    BadRequest, NotLearnt, UnknownPaint
    """
    if not 1 <= boxes <= MOST_BOXES:
        raise BadRequest(f"A plan holds 1 to {MOST_BOXES} boxes.")
    with studio.look() as db:
        learnt = learnt_mixes(studio, db)
        offered = offered_paints(db, among)
        tube = find_paint(db, new_tube).id if new_tube else ""
        names = names_of(paints.listed(db))
    known = [paint.id for paint in offered if paint.id in learnt.rows]
    if tube:
        learnt.require([tube])
        known = [*[paint for paint in known if paint != tube], tube]
    if len(known) < 2:
        raise NotLearnt("A plan needs readings of at least two paints; read their swatches first.")
    if by_parts is None:
        by_parts = not any(o.amounts in {"known", "rough"} for o in learnt.observations)
    plan = plan_boxes(learnt, boxes, candidates=_candidates(learnt, known, tube, by_parts=by_parts))
    left_out = tuple(paint.id for paint in offered if paint.id not in learnt.rows)
    return BoxPlan(plan, learnt.unit, names, left_out, by_parts)


def _candidates(learnt: Learnt, known: list[str], tube: str, *, by_parts: bool) -> list[Recipe]:
    """Return every pair at several strengths or parts, but for boxes that were painted already."""
    ground = usual_paper(learnt.observations)
    full = FULL_STRENGTH * learnt.unit
    offered = (
        [
            Recipe((from_parts(((a, m), (b, n)), full),), ground)
            for a, b in combinations(known, 2)
            for m, n in PARTS
        ]
        if by_parts
        else every_pair(known, learnt, ground)
    )
    painted = {_box(o.recipe, by_parts=by_parts) for o in learnt.observations}
    left = [
        recipe
        for recipe in offered
        if (not tube or tube in recipe.paints) and _box(recipe, by_parts=by_parts) not in painted
    ]
    if not left:
        raise BadRequest("Every box that could be planned is painted already.")
    return left


def _box(recipe: Recipe, *, by_parts: bool) -> frozenset[tuple[str, float]]:
    """Return what makes two boxes the same."""
    wash = recipe.layers[0]
    whole = sum(amount for _, amount in wash) if by_parts else 1.0
    return frozenset((paint, float(f"{amount / whole:.6g}")) for paint, amount in wash)
