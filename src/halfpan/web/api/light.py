"""Light tests as documents."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter

from halfpan.studio.follow_light_tests import due_now, follow_light_test, follow_light_tests
from halfpan.studio.light_document import due_to_dict, light_test_to_dict, light_tests_to_dict
from halfpan.web.asked import AskedNow, AskedStudio

router = APIRouter(prefix="/api", tags=["light"])


@router.get("/light")
def light_tests(studio: AskedStudio, now: AskedNow) -> dict[str, Any]:
    """Return the light tests, each with what changed."""
    return light_tests_to_dict(follow_light_tests(studio, now=now))


@router.get("/light/due")
def due(studio: AskedStudio, now: AskedNow) -> dict[str, Any]:
    """Return which sheets to look at now, and which paints to test first."""
    return due_to_dict(due_now(studio, now=now))


@router.get("/light/{test}")
def light_test(test: str, studio: AskedStudio, now: AskedNow) -> dict[str, Any]:
    """Return one light test by its name, number or chart."""
    return light_test_to_dict(follow_light_test(studio, test, now=now))
