"""What was done lately, as a document."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.studio.change_document import changes_to_dict
from halfpan.studio.undo import latest_changes
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["changes"])


@router.get("/changes")
def changes(studio: AskedStudio) -> dict[str, Any]:
    """Return the latest changes, newest first."""
    return changes_to_dict(latest_changes(studio))
