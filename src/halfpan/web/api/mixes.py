"""Mixes as documents: the same as ``--json`` of ``halfpan mix``."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from halfpan.studio.learn_mixes import learn_mixes
from halfpan.studio.match_colour import colour_in_words, find_match, identify_mixed, reach_of
from halfpan.studio.mix_document import (
    lesson_to_dict,
    likely_to_dict,
    log_to_dict,
    match_to_dict,
    plan_to_dict,
    predictions_to_dict,
    reach_to_dict,
)
from halfpan.studio.mix_log import logged_mixes
from halfpan.studio.paint_names import names_in
from halfpan.studio.plan_mixes import plan_mixes
from halfpan.studio.predict_mix import LADDER, predict_glaze, predict_mix
from halfpan.web.among import among_tins
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api/mixes", tags=["mixes"])
Strength = Annotated[float, Query(gt=0, le=4, allow_inf_nan=False)]


@router.get("")
def log(studio: AskedStudio, near: str = "", paint: str = "") -> dict[str, Any]:
    """Return the log of mixes, newest first; with a colour, nearest to it first."""
    lab = colour_in_words(near) if near else None
    return log_to_dict(*logged_mixes(studio, near=lab, paint=paint))


@router.get("/learnt")
def learnt(studio: AskedStudio) -> dict[str, Any]:
    """Say what was learnt from the readings, and what is doubtful about it."""
    return lesson_to_dict(learn_mixes(studio), names_in(studio))


@router.get("/reach")
def reach(studio: AskedStudio, first: str, second: str, paper: str = "") -> dict[str, Any]:
    """Return what two paints can give, from one to the other and from strong to thin."""
    return reach_to_dict(*reach_of(studio, first, second, paper=paper))


@router.get("/identify")
def identify(
    studio: AskedStudio,
    paint: str,
    among: str = "all",
    paints: Annotated[int, Query(ge=1, le=3)] = 3,
) -> dict[str, Any]:
    """Find which single-pigment paints, in what parts, look like a mixed paint."""
    return likely_to_dict(*identify_mixed(studio, paint, among=among_tins(studio, among), most=paints))


@router.get("/glaze")
def glaze(
    studio: AskedStudio,
    glaze: str,
    strength: Annotated[list[Strength], Query(max_length=6)] = [1.0],  # noqa: B006 (it is only read)
    paper: str = "",
) -> dict[str, Any]:
    """Predict a glaze of dry layers, written from the top down as ``PAINT over PAINT``."""
    return predictions_to_dict(predict_glaze(studio, glaze, strengths=strength, paper=paper).predictions)


@router.get("/predict")
def predict(studio: AskedStudio, mix: str, paper: str = "") -> dict[str, Any]:
    """Predict a mix written as ``3 PAINT + 1 PAINT`` at five strengths, each half the last."""
    return predictions_to_dict(predict_mix(studio, mix, strengths=LADDER, paper=paper).predictions)


@router.get("/match")
def match(  # noqa: PLR0917 (a question sends them by name)
    studio: AskedStudio,
    colour: str,
    among: str = "all",
    paints: Annotated[int, Query(ge=1, le=4)] = 3,
    count: Annotated[int, Query(ge=1, le=40)] = 12,
    paper: str = "",
) -> dict[str, Any]:
    """Find the mixes nearest to ``L,a,b`` or ``#rrggbb``."""
    lab, tin = colour_in_words(colour), among_tins(studio, among)
    return match_to_dict(find_match(studio, lab, among=tin, most=paints, count=count, paper=paper))


@router.get("/plan")
def plan(
    studio: AskedStudio, boxes: Annotated[int, Query(ge=1, le=40)] = 8, among: str = "all"
) -> dict[str, Any]:
    """Say which boxes are worth painting next."""
    return plan_to_dict(plan_mixes(studio, boxes=boxes, among=among_tins(studio, among)))
