"""A read chart as the document that ``--json`` and the page's API give out."""

from __future__ import annotations

from typing import Any

from halfpan.collection.readings import KeptReading
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.paint.laying import laying_words
from halfpan.studio.read_chart import ChartRead

_MEASURES = (
    "within_delta_e00",
    "value_range",
    "value_range_within",
    "contrast_ratio",
    "contrast_ratio_within",
    "transparency",
    "granulation",
    "granulation_up_to",
    "granulation_within",
    "unevenness",
    "unevenness_within",
    "edge",
    "edge_within",
    "separation",
    "separation_within",
)


def read_to_dict(read: ChartRead) -> dict[str, Any]:
    """Return what was read as JSON can hold it."""
    return {
        "chart": read.chart,
        "photos": list(read.photos),
        "light": {"tier": read.light.tier, "check_delta_e00": _rounded(read.light.check_delta_e00)},
        "readings": [reading_to_dict(one) for one in read.readings if one.reading.state != "set aside"],
        "unread": [{"box": one.box, "reason": one.reason} for one in read.unread],
        "paints": [
            swatch_to_dict(one, read.names.get(one.swatch.paint, one.swatch.name))
            for one in read.swatches
            if one.swatch.paint is not None
        ],
    }


def reading_to_dict(kept: KeptReading) -> dict[str, Any]:
    """Return one reading."""
    one = kept.reading
    return {
        "reading": kept.id,
        "box": one.box,
        "paint": one.paint,
        "zone": one.zone,
        "tier": one.tier,
        "state": one.state,
        "lab": [round(value, 2) for value in one.lab],
        "within_delta_e00": round(one.within_delta_e00, 2),
        "spread": _rounded(one.spread),
        "count": one.count,
        "flags": list(one.flags),
    }


def swatch_to_dict(kept: KeptSwatch, name: str) -> dict[str, Any]:
    """Return what one box tells about its paint; what is not known is left out or null."""
    one = kept.swatch
    states = {"masstone": one.masstone, "mid": one.mid, "tint": one.tint}
    return {
        "paint": one.paint,
        "name": name,
        "box": one.box,
        **{state: [round(value, 2) for value in lab] for state, lab in states.items() if lab is not None},
        **{measure: _rounded(getattr(one, measure)) for measure in _MEASURES},
        "lies": laying_words(one),
        "path": [[round(value, 2) for value in lab] for lab in one.path],
        "state": kept.state,
    }


def _rounded(value: Any) -> Any:
    return round(value, 4) if isinstance(value, float) else value
