from __future__ import annotations

from dataclasses import replace

import pytest
from sqlalchemy import Connection

from halfpan.collection import papers
from halfpan.collection.papers import Paper
from halfpan.errors import BadRequest

COLD = Paper("Cold pressed", maker="Old Quarry", weight_gsm=300.0, lab=(94.8, 0.2, 2.1), texture=0.008)


def test_a_paper_comes_back_by_name_or_number(db: Connection) -> None:
    number = papers.add(db, COLD)
    assert papers.find(db, "cold PRESSED") == replace(COLD, id=number)
    assert papers.find(db, str(number)) == papers.find(db, number)


def test_a_white_that_was_never_measured_is_unknown(db: Connection) -> None:
    papers.add(db, Paper("Sketchbook"))
    assert papers.find(db, "Sketchbook").lab is None


def test_a_paper_can_be_measured_later(db: Connection) -> None:
    papers.add(db, Paper("Sketchbook"))
    papers.edit(db, replace(papers.find(db, "Sketchbook"), lab=(96.0, 0.0, 1.0)))
    assert papers.find(db, "Sketchbook").lab == (96.0, 0.0, 1.0)


def test_names_are_given_once_and_strangers_refused(db: Connection) -> None:
    papers.add(db, COLD)
    with pytest.raises(BadRequest, match="already"):
        papers.add(db, Paper("cold pressed"))
    with pytest.raises(BadRequest, match="the papers are: Cold pressed"):
        papers.find(db, "Rough")
