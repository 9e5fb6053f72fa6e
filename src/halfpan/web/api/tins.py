"""Tins as documents."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.studio.lay_tin import list_tins, show_tin
from halfpan.studio.tin_document import tin_to_dict
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["tins"])


@router.get("/tins")
def tins(studio: AskedStudio) -> dict[str, Any]:
    """Return all tins with who sits where."""
    return {"tins": [tin_to_dict(*show_tin(studio, str(one.id))) for one in list_tins(studio)]}


@router.get("/tins/{tin}")
def tin(tin: str, studio: AskedStudio) -> dict[str, Any]:
    """Return one tin, its seats in mm."""
    return tin_to_dict(*show_tin(studio, tin))
