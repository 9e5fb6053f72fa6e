from __future__ import annotations

from datetime import datetime

import pytest

from halfpan.collection.papers import Paper
from halfpan.errors import BadRequest
from halfpan.studio.keep_paper import add_paper, list_papers, set_white
from halfpan.studio.read_chart import read_chart
from halfpan.studio.studio import Studio
from halfpan.studio.undo import undo

from .conftest import PaintedChart


def test_a_paper_is_kept_measured_and_undone(studio: Studio, now: datetime) -> None:
    add_paper(studio, Paper("Rough", weight_gsm=640.0), now=now)
    set_white(studio, "rough", (94.0, 0.5, 3.0), now=now)
    assert [(one.name, one.lab) for one in list_papers(studio)] == [("Rough", (94.0, 0.5, 3.0))]
    undo(studio, now=now)
    assert list_papers(studio)[0].lab is None


def test_what_is_no_white_is_refused(studio: Studio, now: datetime) -> None:
    with pytest.raises(BadRequest, match="not the white of a paper"):
        add_paper(studio, Paper("Ink", lab=(12.0, 0.0, 0.0)), now=now)
    assert list_papers(studio) == []


def test_a_chart_on_a_measured_paper_is_read_against_it(painted: PaintedChart, now: datetime) -> None:
    from halfpan.collection import charts

    paper = add_paper(painted.studio, Paper("Creamy", lab=(92.0, 1.0, 8.0)), now=now)
    plain = read_chart(painted.studio, [painted.scan], now=now)
    with painted.studio.transaction() as db:
        charts.edit(db, painted.chart.chart, paper=paper.id)
        page_reads_before = plain.readings[0].page_read
    undo(painted.studio, now=now)
    creamy = read_chart(painted.studio, [painted.scan], now=now)
    assert creamy.readings[0].page_read != page_reads_before
    assert all(one.paper == paper.id for one in creamy.readings)
    before, after = (
        {one.reading.box: one.reading.lab[2] for one in read.readings if one.reading.zone == "tint"}
        for read in (plain, creamy)
    )
    tints = [(before[box], after[box]) for box in before.keys() & after.keys()]
    assert tints
    assert all(new > old for old, new in tints)
