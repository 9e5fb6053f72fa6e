"""Choosing, gaps and greys as documents: the same as ``--json`` of ``halfpan tin``."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query

from halfpan.core.arranging.demands import Demands
from halfpan.studio.choice_document import choice_to_dict, gaps_to_dict, greys_to_dict
from halfpan.studio.choose_paints import choose_paints, demanded_ids
from halfpan.studio.find_greys import find_greys
from halfpan.studio.see_gaps import see_gaps
from halfpan.web.among import among_tins
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["choosing"])
Names = Annotated[list[str], Query(max_length=24)]


@router.get("/choose")
def choose(  # noqa: PLR0917 (a question sends them by name)
    studio: AskedStudio,
    count: Annotated[int, Query(ge=1, le=24)],
    among: str = "all",
    wished: bool = False,
    single: bool = False,
    lasting: bool = False,
    by: Literal["label", "literature", "proof"] = "label",
    without: Names = [],  # noqa: B006 (it is only read)
    granulating: bool = False,
    dark: bool = False,
    budget: Annotated[float | None, Query(ge=0, allow_inf_nan=False)] = None,
    must: Names = [],  # noqa: B006
    must_not: Names = [],  # noqa: B006
    sets: Annotated[int, Query(ge=1, le=6)] = 3,
) -> dict[str, Any]:
    """Choose the few paints whose mixes reach most."""
    demands = Demands(
        single=single,
        lasting=lasting,
        by=by,
        without=tuple(without),
        granulating=granulating,
        dark=dark,
        budget=budget,
        must=demanded_ids(studio, must),
        must_not=demanded_ids(studio, must_not),
    )
    tin = among_tins(studio, among)
    return choice_to_dict(choose_paints(studio, count, demands, among=tin, wished=wished, sets=sets))


@router.get("/gaps")
def gaps(studio: AskedStudio, among: str = "all") -> dict[str, Any]:
    """Return what a tin or the collection cannot reach, and what would close most of it."""
    return gaps_to_dict(see_gaps(studio, among_tins(studio, among)))


@router.get("/greys")
def greys(
    studio: AskedStudio, among: str = "all", count: Annotated[int, Query(ge=1, le=40)] = 8
) -> dict[str, Any]:
    """Return the pairs that make the cleanest greys and the deepest darks."""
    return greys_to_dict(find_greys(studio, among_tins(studio, among), count=count))
