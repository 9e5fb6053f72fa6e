"""Paints as documents."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.studio.list_paints import list_paints
from halfpan.studio.paint_document import paint_to_dict
from halfpan.studio.show_paint import show_paint
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["paints"])


@router.get("/paints")
def paints(studio: AskedStudio, find: str = "", owned: bool | None = None) -> dict[str, Any]:
    """Return all paints, or those in which every word occurs."""
    return {"paints": [paint_to_dict(one) for one in list_paints(studio, find, owned=owned)]}


@router.get("/paints/{paint}")
def paint(paint: str, studio: AskedStudio) -> dict[str, Any]:
    """Return one paint by its id, or by a name that only one answers to."""
    return paint_to_dict(show_paint(studio, paint).paint)
