"""Paints as documents: the same as ``--json`` of ``halfpan paints``."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from halfpan.core.arranging.substitutes import Wanted
from halfpan.core.paint.witness import Witness
from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.ask_witnesses import ask_witnesses
from halfpan.studio.change_document import history_to_dict
from halfpan.studio.compare_ranges import compare_ranges
from halfpan.studio.find_alike import find_alike, find_alike_to
from halfpan.studio.label_document import witnesses_to_dict
from halfpan.studio.likeness_document import alike_to_dict, order_to_dict, place_to_dict
from halfpan.studio.list_paints import list_paints
from halfpan.studio.name_paint import name_paint
from halfpan.studio.order_paints import order_paints, place_paint
from halfpan.studio.own_paint import own_paint
from halfpan.studio.paint_document import paint_to_dict
from halfpan.studio.paint_history import paint_history
from halfpan.studio.show_paint import show_paint, shown_to_dict
from halfpan.studio.substitute_paint import substitute_paint
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["paints"])


@router.get("/paints")
def paints(studio: AskedStudio, find: str = "", owned: bool | None = None) -> dict[str, Any]:
    """Return all paints, or those in which every word occurs."""
    return {"paints": [paint_to_dict(one) for one in list_paints(studio, find, owned=owned)]}


@router.get("/own")
def own(studio: AskedStudio, what: str) -> dict[str, Any]:
    """Say what is owned of some codes or a name: by codes, pigment, look and name."""
    return {"asked": what, **answer_to_document(own_paint(studio, what).owned)}


@router.get("/duplicates")
def duplicates(studio: AskedStudio, paint: str = "") -> dict[str, Any]:
    """Return duplicates, look-alikes, cousins and namesakes, of one paint or of all."""
    return alike_to_dict(find_alike_to(studio, paint) if paint else find_alike(studio))


@router.get("/order")
def order(studio: AskedStudio) -> dict[str, Any]:
    """Return the proposed order, the painter's own, and odd neighbours."""
    return order_to_dict(order_paints(studio))


@router.get("/ranges")
def ranges(
    studio: AskedStudio, name: Annotated[list[str], Query(min_length=1, max_length=2)]
) -> dict[str, Any]:
    """Return a range at a glance, or two side by side."""
    return {"ranges": answer_to_document(compare_ranges(studio, *name).ranges)}


@router.get("/paints/{paint}")
def paint(paint: str, studio: AskedStudio) -> dict[str, Any]:
    """Return all that is known of one paint, by its id or by a name that only one answers to."""
    return shown_to_dict(show_paint(studio, paint))


@router.get("/paints/{paint}/witnesses")
def witnesses(paint: str, studio: AskedStudio) -> dict[str, Any]:
    """Return what label, literature and proof say, side by side."""
    return witnesses_to_dict(ask_witnesses(studio, paint))


@router.get("/paints/{paint}/place")
def place(paint: str, studio: AskedStudio) -> dict[str, Any]:
    """Return where a new paint goes and what it makes out of date."""
    return place_to_dict(place_paint(studio, paint))


@router.get("/paints/{paint}/identify")
def identify(paint: str, studio: AskedStudio) -> dict[str, Any]:
    """Return what pigments a paint may be, by how it looks."""
    return answer_to_document(name_paint(studio, paint).named)


@router.get("/paints/{paint}/history")
def history(paint: str, studio: AskedStudio) -> dict[str, Any]:
    """Return what was done to one paint."""
    return history_to_dict(paint_history(studio, paint))


@router.get("/paints/{paint}/substitutes")
def substitutes(  # noqa: PLR0917 (a question sends them by name)
    paint: str,
    studio: AskedStudio,
    transparent: bool | None = None,
    granulating: bool | None = None,
    lasting: bool | None = None,
    single: bool | None = None,
    without: Annotated[list[str], Query()] = [],  # noqa: B006 (it is only read)
    maker: str = "",
    by: Witness | None = None,
    count: Annotated[int, Query(ge=1, le=100)] = 6,
) -> dict[str, Any]:
    """Rank what could replace a paint."""
    wanted = Wanted(transparent, granulating, lasting, single, tuple(without), maker, by)
    found = substitute_paint(studio, paint, wanted, most=count).substitutes
    return answer_to_document(found)
