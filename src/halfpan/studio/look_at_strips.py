"""Keep a look at the strips of a light test: the two halves of each wash, as one photo shows them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy import Connection

from halfpan.collection import light_tests
from halfpan.collection.light_tests import Exposure
from halfpan.collection.readings import KeptReading
from halfpan.core.chart.light_sheet import HALVES


def look_at_strips(db: Connection, chart: str, read: Sequence[KeptReading], *, looked: datetime) -> None:
    """Keep the halves that one photo of a light test shows; a wash of which one half is missing is left out.

    Parameters
    ----------
    db : Connection
    chart : the sheet
    read : readings of one photo, as they were kept
    looked : when the strips looked like this
    """
    test = light_tests.of_chart(db, chart)
    if test is None:
        return
    named = {(one.reading.box, one.reading.zone): one for one in read}
    boxes = dict.fromkeys(box for box, _ in named)
    dose = {"lux": test.lux, "hours_a_day": test.hours_a_day} if test.lux is not None else {}
    light_tests.look(
        db,
        [
            Exposure(test.id, box, named[box, kept], named[box, lit], looked, dose=dose)
            for box in boxes
            for kept, lit in HALVES.values()
            if (box, kept) in named and (box, lit) in named
        ],
    )
