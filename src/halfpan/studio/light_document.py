"""Light tests as the JSON documents that commands and pages give."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from halfpan.core.fading.course import Look
from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.follow_light_tests import Due, Followed, StripSeen


def light_tests_to_dict(found: Sequence[Followed]) -> dict[str, Any]:
    """Return light tests, each with when to look and what changed."""
    return {"light_tests": [light_test_to_dict(one) for one in found]}


def light_test_to_dict(one: Followed) -> dict[str, Any]:
    """Return one light test."""
    test = one.test
    return {
        "light_test": test.id,
        "name": test.name,
        "chart": test.chart,
        "place": test.place,
        "facing": test.facing,
        "glass": test.glass,
        "latitude_deg": test.latitude_deg,
        "paper": test.paper,
        "started": test.started.isoformat(),
        "ended": test.ended.isoformat() if test.ended else None,
        "days": one.days,
        "dose_mlx_h": one.dose,
        "looks": list(test.looks),
        "looked": list(one.looked),
        "due": one.due,
        "next": one.next,
        "remark": one.remark,
        "paints": [{"paint": paint.id, "name": paint.name} for paint in one.paints],
        "strips": [_strip(strip) for strip in one.strips],
        "waiting": [
            {
                "box": wash.box,
                "paint": wash.paint.id if wash.paint else None,
                "name": wash.paint.name if wash.paint else None,
                "strength": wash.strength,
                "looks": wash.looks,
                "why": list(wash.why),
            }
            for wash in one.waiting
        ],
    }


def due_to_dict(due: Due) -> dict[str, Any]:
    """Return what to look at now and which paints to test first."""
    return {
        "look": [light_test_to_dict(one) for one in due.look],
        "first": [
            {
                "paint": one.paint.id,
                "name": one.paint.name,
                "doubtful": list(one.doubtful),
                "label": one.statement.label.text if one.statement.label else None,
                "literature": one.statement.literature.text if one.statement.literature else None,
            }
            for one in due.first
        ],
    }


def _strip(one: StripSeen) -> dict[str, Any]:
    strip = one.strip
    return {
        "box": strip.box,
        "paint": strip.paint,
        "name": one.paint.name if one.paint else None,
        "strength": strip.strength,
        "kept": list(strip.kept),
        "exposed": list(strip.exposed),
        "says": one.says,
        "level": one.level,
        "ways": list(one.ways),
        "grey_scale": one.grey_scale,
        "looks": [_look(look) for look in strip.looks],
        "passed": answer_to_document(one.passed),
        "kept_changed": answer_to_document(strip.kept_changed),
        "blue_wool": strip.blue_wool,
        "sensitivity": one.sensitivity,
    }


def _look(look: Look) -> dict[str, Any]:
    return {
        "days": look.days,
        "delta_e_ab": look.fading.delta_e_ab,
        "within_ab": look.fading.within_ab,
        "delta_e_00": look.fading.delta_e_00,
        "within_00": look.fading.within_00,
        "from_start": look.fading.from_start,
    }
