"""Plan which boxes of mixes to paint next, from what is not known yet."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import paints
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import Recipe
from halfpan.core.mixing.plan import Plan, every_pair, plan_boxes
from halfpan.errors import BadRequest, NotLearnt
from halfpan.studio.find_paint import find_paint
from halfpan.studio.learn_mixes import learnt_mixes
from halfpan.studio.offered_paints import offered_paints
from halfpan.studio.paint_names import names_of
from halfpan.studio.painted_films import usual_paper
from halfpan.studio.studio import Studio

MOST_BOXES = 200


@dataclass(frozen=True, slots=True)
class BoxPlan:
    """The plan, the unit its amounts are in, what paints are called, and which were left out as unread."""

    plan: Plan
    unit: float
    names: dict[str, str]
    left_out: tuple[str, ...]


def plan_mixes(studio: Studio, *, boxes: int = 13, among: str = "all", new_tube: str = "") -> BoxPlan:
    """Choose the boxes that teach most about all mixes of some paints.

    Parameters
    ----------
    studio : Studio
    boxes : how many
    among : ``all`` that are owned, a tin, a list in a file, or ids and names with commas between them
    new_tube : a paint: only boxes with it, chosen to tell most about its mixes with the others

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
    plan = plan_boxes(learnt, boxes, candidates=_candidates(learnt, known, tube))
    left_out = tuple(paint.id for paint in offered if paint.id not in learnt.rows)
    return BoxPlan(plan, learnt.unit, names, left_out)


def _candidates(learnt: Learnt, known: list[str], tube: str) -> list[Recipe]:
    """Return every pair at several strengths, but for boxes that were painted already."""
    ground = usual_paper(learnt.observations)
    painted = {frozenset(o.recipe.layers[0]) for o in learnt.observations if len(o.recipe.layers) == 1}
    offered = [
        recipe
        for recipe in every_pair(known, learnt, ground)
        if (not tube or tube in recipe.paints) and frozenset(recipe.layers[0]) not in painted
    ]
    if not offered:
        raise BadRequest("Every box that could be planned is painted already.")
    return offered
