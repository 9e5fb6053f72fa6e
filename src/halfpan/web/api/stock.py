"""The drawer and the wish list as documents."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.mix_yourself import mix_yourself
from halfpan.studio.stock import list_stock
from halfpan.studio.stock_document import stock_to_dict, wishes_to_dict
from halfpan.studio.wish import list_wishes
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["stock"])


@router.get("/stock")
def stock(studio: AskedStudio, paint: str = "", low: bool = False) -> dict[str, Any]:
    """Return what lies in the drawer."""
    return stock_to_dict(list_stock(studio, paint=paint, low=low))


@router.get("/wishes")
def wishes(studio: AskedStudio) -> dict[str, Any]:
    """Return the wish list."""
    return wishes_to_dict(list_wishes(studio))


@router.get("/wishes/mixed")
def mixed(studio: AskedStudio) -> dict[str, Any]:
    """Say of each wished mixed paint whether its look can be made from singles one owns."""
    told, _ = mix_yourself(studio)
    return {"wishes": [answer_to_document(one) | {"paint": one.paint.id} for one in told]}
