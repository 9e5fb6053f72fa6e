"""Answers about mixes as JSON documents: the same for ``--json`` and for the studio page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from halfpan.core.mixing.identify import Likely
from halfpan.core.mixing.match import Match
from halfpan.core.mixing.observation import Wash
from halfpan.core.mixing.predict import Prediction
from halfpan.core.mixing.reach import Reach
from halfpan.core.paint.witness import Said, Witness
from halfpan.studio.learn_mixes import Lesson
from halfpan.studio.match_colour import MatchAnswer
from halfpan.studio.mix_log import Logged
from halfpan.studio.plan_mixes import BoxPlan


def predictions_to_dict(predictions: Sequence[Prediction]) -> dict[str, Any]:
    """Return ``{"predictions": [...]}``, one for each recipe in order."""
    return {"predictions": [prediction_to_dict(one) for one in predictions]}


def prediction_to_dict(one: Prediction) -> dict[str, Any]:
    """Return one predicted colour."""
    return {
        "lab": _rounded(one.lab),
        "within_delta_e00": round(one.within_delta_e00, 3),
        "flags": list(one.flags),
        "screen": one.screen,
        "outside_screen_delta_e00": round(one.outside_screen, 2),
        "contrast_ratio": round(one.contrast_ratio, 4),
    }


def lesson_to_dict(lesson: Lesson, names: Mapping[str, str]) -> dict[str, Any]:
    """Return what was learnt and what is doubtful about it."""
    return {
        "model": lesson.learnt.model,
        "paints": [names.get(paint, paint) for paint in lesson.learnt.paints],
        "swatches": lesson.swatches,
        "mixes": lesson.mixes,
        "unit": lesson.learnt.unit,
        "strength_unknown": [
            {
                "paint": names.get(one.paint, one.paint),
                "reason": one.reason,
                "settled_by": None if one.settles is None else wash_to_list(one.settles.layers[0], names),
            }
            for one in lesson.unknown_strength
        ],
        "swapped_or_misread": [
            {
                "box": one.box,
                "mix": wash_to_list(recipe.layers[0], names),
                "delta_e00": round(one.apart, 2),
                "within_delta_e00": round(one.within_delta_e00, 2),
            }
            for one, recipe in lesson.suspicious
        ],
        "without_readings": [names.get(paint, paint) for paint in lesson.without_readings],
    }


def plan_to_dict(found: BoxPlan) -> dict[str, Any]:
    """Return the boxes to paint, most telling first, and the forecast of the 95 % radius."""
    plan = found.plan
    return {
        "boxes": [
            {**_pair(wash, found.names), "forecast_delta_e00": round(after, 3)}
            for wash, after in zip(found.washes(), plan.after_each, strict=True)
        ],
        "amounts": "parts of a full-strength wash" if found.by_parts else "in the unit of the readings",
        "now_delta_e00": round(plan.now_delta_e00, 3),
        "forecast_delta_e00": round(plan.forecast_delta_e00, 3),
        "without_readings": [found.names.get(paint, paint) for paint in found.left_out],
    }


def _pair(wash: Wash, names: Mapping[str, str]) -> dict[str, Any]:
    (a, m), (b, n) = wash
    return {"paint_a": names[a], "amount_a": _amount(m), "paint_b": names[b], "amount_b": _amount(n)}


def match_to_dict(answer: MatchAnswer) -> dict[str, Any]:
    """Return the nearest mixes and, before them, what was painted already."""
    return {
        "lab": _rounded(answer.lab),
        "reached": answer.reached,
        "painted": [
            {
                "box": one.observation.box,
                "mix": wash_to_list(one.observation.recipe.layers[0], answer.names),
                "lab": _rounded(one.observation.lab),
                "delta_e00": round(one.apart, 2),
            }
            for one in answer.painted
        ],
        "matches": [
            _one_match(match, light, grain, answer)
            for match, light, grain in zip(answer.matches, answer.light, answer.granulation, strict=True)
        ],
        "without_readings": [answer.names.get(paint, paint) for paint in answer.left_out],
    }


def _one_match(
    match: Match,
    light: Mapping[Witness, Said | None],
    grain: Mapping[Witness, Said | None],
    answer: MatchAnswer,
) -> dict[str, Any]:
    return {
        "parts": [
            {"paint": answer.names[p], "parts": n, "codes": list(answer.paints[p].codes)}
            for p, n in match.parts
        ],
        "strength": round(match.strength, 3),
        "delta_e00": round(match.apart, 2),
        "verdict": match.verdict,
        **prediction_to_dict(match.prediction),
        "lightfastness": {witness: said.text if said else None for witness, said in light.items()},
        "granulation": {witness: said.text if said else None for witness, said in grain.items()},
    }


def likely_to_dict(found: Sequence[Likely], names: Mapping[str, str]) -> dict[str, Any]:
    """Return which parts of which paints look like a mixed paint."""
    return {
        "mixes": [
            {
                "parts": [{"paint": names[p], "parts": n} for p, n in one.parts],
                "delta_e00": round(one.apart, 2),
                "delta_e00_each": [round(apart, 2) for apart in one.apart_each],
            }
            for one in found
        ]
    }


def reach_to_dict(reach: Reach, names: Mapping[str, str]) -> dict[str, Any]:
    """Return the colours of a pair, row by row of strength."""
    return {
        "first": names[reach.first],
        "second": names[reach.second],
        "shares_of_second": [round(share, 4) for share in reach.shares],
        "strengths": list(reach.strengths),
        "lab": [[_rounded(lab) for lab in row] for row in reach.lab.tolist()],
        "within_delta_e00": [[round(w, 2) for w in row] for row in reach.within_delta_e00.tolist()],
    }


def log_to_dict(found: Sequence[Logged], names: Mapping[str, str]) -> dict[str, Any]:
    """Return the log of mixes."""
    return {
        "mixes": [
            {
                "mix": one.mix.id,
                "painted": one.mix.painted.isoformat(),
                "parts": [{"paint": names.get(p, p), "parts": n} for p, n in one.mix.parts],
                "name": one.mix.name,
                "notes": one.mix.notes,
                "photo": one.mix.photo,
                "lab": None if one.lab is None else _rounded(one.lab),
                "delta_e00": None if one.apart is None else round(one.apart, 2),
            }
            for one in found
        ]
    }


def wash_to_list(wash: Wash, names: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return a wash as paints with their amounts."""
    return [{"paint": names.get(paint, paint), "amount": _amount(amount)} for paint, amount in wash]


def _amount(amount: float) -> float:
    return float(f"{amount:.6g}")


def _rounded(lab: Sequence[float]) -> list[float]:
    return [round(float(v), 4) for v in lab]
