"""Likeness and order as the JSON documents of commands and page."""

from __future__ import annotations

from typing import Any

from halfpan.core.arranging.likeness import in_words
from halfpan.core.arranging.order import FAMILY_WORDS
from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.find_alike import Alike
from halfpan.studio.order_paints import NewPlace, Ordered


def alike_to_dict(alike: Alike) -> dict[str, Any]:
    """Return pairs and groups of like paints, each pair with its sentence."""
    return {
        "repeatability": answer_to_document(alike.repeat),
        "pairs": [
            {**answer_to_document(one), "sentence": in_words(one, alike.repeat)} for one in alike.likenesses
        ],
        "groups": answer_to_document(alike.kin),
        "unread": alike.unread,
    }


def order_to_dict(ordered: Ordered) -> dict[str, Any]:
    """Return the proposed order, the painter's own and its odd neighbours."""
    return {
        "order": [
            {"paint": one.paint, "family": FAMILY_WORDS[one.family], "basis": one.basis}
            for one in ordered.proposed
        ],
        "own": list(ordered.own),
        "odd": answer_to_document(ordered.odd),
    }


def place_to_dict(placed: NewPlace) -> dict[str, Any]:
    """Return where a new paint goes and the least to repaint on each chart."""
    return {
        "paint": placed.paint.id,
        "place": answer_to_document(placed.gap),
        "charts": answer_to_document(placed.repaints),
    }
