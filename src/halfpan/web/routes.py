"""All routes of the page: one file a noun under ``pages/`` and ``api/``, listed here.

A new page is a file with a ``router``, a line here, a template, words under ``languages/`` and, when it is a
main section, a line in ``frame.SECTIONS``. A route has five lines: parse, one use case, present.
"""

from __future__ import annotations

from fastapi import APIRouter

from halfpan.web.api import changes as change_documents
from halfpan.web.api import charts as charts_documents
from halfpan.web.api import choosing as choosing_documents
from halfpan.web.api import labels as label_documents
from halfpan.web.api import light as light_documents
from halfpan.web.api import mixes as mix_documents
from halfpan.web.api import paints as paint_documents
from halfpan.web.api import papers as paper_documents
from halfpan.web.api import pigments as pigment_documents
from halfpan.web.api import stock as stock_documents
from halfpan.web.api import tins as tin_documents
from halfpan.web.pages import (
    at_table,
    charts,
    crops,
    frame_choices,
    invented,
    jobs,
    light,
    match,
    mixes,
    new_chart,
    next_mixes,
    paint,
    paint_list,
    paints,
    pair,
    papers,
    pigments,
    review,
    rule_photo,
    share,
    static,
    stock,
    tins,
    undo,
    welcome,
)

ROUTERS: tuple[APIRouter, ...] = (
    static.router,
    pair.router,
    frame_choices.router,
    jobs.router,
    undo.router,
    welcome.router,
    invented.router,
    paint_list.router,
    paints.router,
    paint.router,
    crops.router,
    rule_photo.router,
    review.router,
    new_chart.router,
    charts.router,
    at_table.router,
    share.router,
    match.router,
    next_mixes.router,
    mixes.router,
    tins.router,
    light.router,
    stock.router,
    pigments.router,
    papers.router,
    paint_documents.router,
    label_documents.router,
    change_documents.router,
    choosing_documents.router,
    charts_documents.router,
    mix_documents.router,
    tin_documents.router,
    light_documents.router,
    stock_documents.router,
    pigment_documents.router,
    paper_documents.router,
)
