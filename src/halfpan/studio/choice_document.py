"""Choosing, gaps and greys as the JSON documents of commands and page."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from halfpan.core.colour.notation import hue_words
from halfpan.core.colour.screen import lab_to_hex
from halfpan.core.paint.reading import Lab
from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.choose_paints import ChoiceAnswer
from halfpan.studio.draw_tin import RingSeen
from halfpan.studio.find_greys import GreysFound
from halfpan.studio.see_gaps import GapsSeen


def choice_to_dict(answer: ChoiceAnswer) -> dict[str, Any]:
    """Return the sets that were chosen, with what each reaches and loses."""
    return {
        "sets": [
            {
                "paints": [
                    {"paint": p, "name": answer.paints[p].name, "codes": list(answer.paints[p].codes)}
                    for p in one.paints
                ],
                "cells": one.choice.cells,
                "share_of_allowed": one.choice.share,
                "share_of_owned": one.share_of_owned,
                "lost": [_colour(lab) for lab in one.lost],
                "lost_cells": one.lost_cells,
                "owned_cells": one.owned_cells,
                "add_next": _next(one.add_next),
                "drop_next": _next(one.drop_next),
            }
            for one in answer.sets
        ],
        "refused": list(answer.passed.refused),
        "unknown": list(answer.passed.unknown),
        "left_out": list(answer.left_out),
        "no_set_can_pass": answer.bound,
    }


def gaps_to_dict(seen: GapsSeen) -> dict[str, Any]:
    """Return what cannot be reached, and which paint would close most of it."""
    return {
        "wider": seen.wider,
        "share": seen.share,
        "wider_cells": seen.wider_cells,
        "gaps": answer_to_document(seen.gaps),
        "lost": [_colour(lab) for lab in seen.lost],
        "owned_would": [_next(one) for one in seen.owned_would],
        "wished_would": [_next(one) for one in seen.wished_would],
        "wishes_unread": list(seen.unread),
        "ring_gaps": answer_to_document(seen.ring_gaps),
    }


def ring_to_dict(seen: RingSeen) -> dict[str, Any]:
    """Return where the paints stand on the hue ring at mid strength, and the stretches without any."""
    return {
        "paints": [
            {**answer_to_document(one), "name": seen.names.get(one.paint), "greyish": one.greyish}
            for one in seen.ring
        ],
        "gaps": [{**answer_to_document(one), "width": one.width} for one in seen.gaps],
    }


def greys_to_dict(found: GreysFound) -> dict[str, Any]:
    """Return the cleanest greys, the deepest darks, and opposites to the eye."""
    return {
        "greys": [{**asdict(one), "chroma": one.chroma} for one in found.greys],
        "darks": [{**asdict(one), "chroma": one.chroma} for one in found.darks],
        "look_opposite": [asdict(one) for one in found.opposites],
        "left_out": list(found.left_out),
    }


def _next(told: tuple[str, int] | None) -> dict[str, Any] | None:
    return None if told is None else {"paint": told[0], "cells": told[1]}


def _colour(lab: Lab) -> dict[str, Any]:
    return {"lab": list(lab), "screen": str(lab_to_hex(lab)), "words": hue_words(lab)}
