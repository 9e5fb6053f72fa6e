"""Pigments as documents: what is published, how sure, and the paints that contain them."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.show_pigment import list_pigments, show_pigment
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["pigments"])


@router.get("/pigments")
def pigments(studio: AskedStudio, owned: bool = False) -> dict[str, Any]:
    """Return the pigments of the index, and codes of the studio that it does not know."""
    rows = list_pigments(studio, owned=owned)
    return {"pigments": [{"code": c, "paints": n, "known": answer_to_document(p)} for c, p, n in rows]}


@router.get("/pigments/{code}")
def pigment(code: str, studio: AskedStudio) -> dict[str, Any]:
    """Return what is known of one code."""
    shown = show_pigment(studio, code)
    return {**answer_to_document(shown), "paints": [one.id for one in shown.paints]}
