"""What labels say of paints, and what was seen of them, as the JSON documents of commands and page."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from halfpan.core.paint.cautions import DEFER, NONE_RECORDED, ForChildren
from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.ask_witnesses import Asked
from halfpan.studio.check_labels import PaintChecked
from halfpan.studio.class_list import ClassList
from halfpan.studio.list_cautions import Warned


def checked_to_dict(checked: Iterable[PaintChecked]) -> dict[str, Any]:
    """Return every label with the remarks about it."""
    return {
        "paints": [
            {
                "paint": one.paint.id,
                "name": one.paint.name,
                "codes": list(one.paint.codes),
                "printed": one.paint.label.codes,
                "remarks": answer_to_document(one.checked.remarks),
                "contents": answer_to_document(one.contents),
            }
            for one in checked
        ]
    }


def cautions_to_dict(warned: Iterable[Warned]) -> dict[str, Any]:
    """Return cautions by paint, each with its witness, and to whom they defer."""
    return {
        "paints": [
            {
                "paint": one.paint.id,
                "name": one.paint.name,
                "cautions": answer_to_document(one.cautions),
                "children": answer_to_document(one.children),
            }
            for one in warned
        ],
        "note": DEFER,
        "without_a_caution": NONE_RECORDED,
    }


def children_to_dict(said: Iterable[ForChildren]) -> dict[str, Any]:
    """Return what labels say about children, word for word."""
    return {"by_their_labels": answer_to_document(tuple(said)), "note": DEFER}


def witnesses_to_dict(asked: Asked) -> dict[str, Any]:
    """Return what label, literature and proof say of a paint."""
    document = answer_to_document(asked)
    return {key: document[key] for key in document if key != "swatch"}


def class_list_to_dict(made: ClassList) -> dict[str, Any]:
    """Return a class list with the cheapest basket."""
    return {
        "lines": [
            {
                "codes": list(line.line.codes),
                "same_chemistry": [twin.code for twin in line.twins],
                "owned": [one.id for one in line.owned],
                "others": [one.id for one in line.others],
            }
            for line in made.lines
        ],
        "basket": {
            "tubes": [{"line": number, "paint": paint} for number, paint in made.basket.tubes],
            "price": made.basket.price,
            "currency": made.basket.currency,
            "unpriced": list(made.basket.unpriced),
            "unmet": list(made.basket.unmet),
        },
    }
