"""Labels, cautions and lists made from them, as documents."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from halfpan.studio.answer_document import answer_to_document
from halfpan.studio.check_labels import check_labels
from halfpan.studio.class_list import children_list, class_list
from halfpan.studio.keep_finding import list_findings
from halfpan.studio.label_document import (
    cautions_to_dict,
    checked_to_dict,
    children_to_dict,
    class_list_to_dict,
)
from halfpan.studio.list_cautions import list_cautions
from halfpan.web.among import among_tins
from halfpan.web.asked import AskedStudio

router = APIRouter(prefix="/api", tags=["labels"])


@router.get("/labels")
def labels(studio: AskedStudio) -> dict[str, Any]:
    """Return every label with the remarks about it."""
    return checked_to_dict(check_labels(studio))


@router.get("/cautions")
def cautions(studio: AskedStudio) -> dict[str, Any]:
    """Return cautions by paint, each with its witness. They are no safety data sheet."""
    return cautions_to_dict(list_cautions(studio))


@router.get("/children")
def children(studio: AskedStudio, among: str = "all") -> dict[str, Any]:
    """Return what labels say about children, word for word."""
    return children_to_dict(children_list(studio, among_tins(studio, among))[0])


@router.get("/class-list")
def listed_for_a_class(
    studio: AskedStudio,
    code: Annotated[list[str], Query(min_length=1, max_length=60)],
    maker: Annotated[list[str], Query()] = [],  # noqa: B006 (it is only read)
    currency: str = "",
) -> dict[str, Any]:
    """Return a class list by code, and the cheapest basket for one student."""
    return class_list_to_dict(class_list(studio, code, makers=maker, currency=currency))


@router.get("/findings")
def findings(studio: AskedStudio, paint: str = "") -> dict[str, Any]:
    """Return what the painter's eye saw, of one paint or of all."""
    return {"findings": answer_to_document(list_findings(studio, paint))}
