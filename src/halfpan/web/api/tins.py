"""Tins as documents."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Query

from halfpan.core.arranging.sides import SideRule
from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.follow_tin import stale_charts
from halfpan.studio.lay_tin import list_tins, show_tin
from halfpan.studio.seat_tin import odd_seats
from halfpan.studio.split_tins import split_paints
from halfpan.studio.tin_document import tin_to_dict, tins_to_dict
from halfpan.web.among import among_tins
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["tins"])
Degrees = Annotated[float, Query(ge=0, le=360, allow_inf_nan=False)]


@router.get("/tins")
def tins(studio: AskedStudio) -> dict[str, Any]:
    """Return all tins."""
    return tins_to_dict(list_tins(studio))


@router.get("/tins/stale")
def stale(studio: AskedStudio, tin: str = "") -> dict[str, Any]:
    """Return the charts and lid cards that no longer match their tins."""
    return {"stale": answer_to_document(stale_charts(studio, tin))}


@router.get("/tins/split")
def split(  # noqa: PLR0917 (a question sends them by name)
    studio: AskedStudio,
    among: str = "all",
    first: str = "warm",
    second: str = "cool",
    start: Degrees = 350.0,
    end: Degrees = 100.0,
) -> dict[str, Any]:
    """Part paints over two sides by a boundary of the painter's own; nothing is moved."""
    rule = SideRule(first, second, start, end)
    parted = split_paints(studio, among_tins(studio, among), rule)
    return {"rule": answer_to_document(parted.rule), "sided": answer_to_document(parted.sided)}


@router.get("/tins/{tin}")
def tin(tin: str, studio: AskedStudio) -> dict[str, Any]:
    """Return one tin, its seats in mm."""
    return tin_to_dict(*show_tin(studio, tin))


@router.get("/tins/{tin}/odd")
def odd(tin: str, studio: AskedStudio) -> dict[str, Any]:
    """Return the pans that look odd where they sit, and the move that helps most."""
    return {"odd": [asdict(one) for one in odd_seats(studio, tin)]}
