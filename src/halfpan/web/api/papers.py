"""Papers as documents."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.keep_paper import list_papers
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["papers"])


@router.get("/papers")
def papers(studio: AskedStudio) -> dict[str, Any]:
    """Return all papers."""
    return {"papers": answer_to_document(list_papers(studio))}
