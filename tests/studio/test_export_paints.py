from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from halfpan.errors import BadRequest
from halfpan.files.tables import parse_table, read_table
from halfpan.studio.add_paints import add_paints, preview_list
from halfpan.studio.export_paints import export_paints
from halfpan.studio.list_paints import list_paints
from halfpan.studio.read_chart import read_chart
from halfpan.studio.review import Which, accept
from halfpan.studio.studio import Studio

from .conftest import PaintedChart

LIST = """maker,range,name,codes,form,size,price,tags
Tidewater,Estuary,"=HYPERLINK(""x"")","PB29, PBk9",half pan,1.5,£4.20,sea; sky
Tidewater,Estuary,Rosé,PV19,tube,8,,
"""


@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
def test_an_exported_list_can_be_added_again_and_adds_nothing(
    studio: Studio, now: datetime, tmp_path: Path, suffix: str
) -> None:
    add_paints(studio, parse_table(LIST.replace("=HYPER", "HYPER")), now=now)
    assert export_paints(studio, tmp_path / f"list.{suffix}") == 2
    table = read_table(tmp_path / f"list.{suffix}")
    assert {line.outcome for line in preview_list(studio, table).lines} == {"here already"}


@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
def test_no_exported_cell_is_a_formula(studio: Studio, now: datetime, tmp_path: Path, suffix: str) -> None:
    add_paints(studio, parse_table(LIST), now=now)
    assert list_paints(studio)[0].name == '=HYPERLINK("x")'
    export_paints(studio, tmp_path / f"list.{suffix}")
    cells = [cell for row in read_table(tmp_path / f"list.{suffix}").rows for cell in row.cells]
    assert '\'=HYPERLINK("x")' in cells
    assert not [cell for cell in cells if cell.startswith(("=", "+", "@"))]


def test_what_was_read_stands_beside_the_paint(painted: PaintedChart, now: datetime, tmp_path: Path) -> None:
    read_chart(painted.studio, [painted.scan], now=now)
    accept(painted.studio, Which(chart=painted.chart.chart), now=now)
    export_paints(painted.studio, tmp_path / "list.csv")
    heading, *lines = read_table(tmp_path / "list.csv").rows
    at = heading.cells.index("full strength L")
    assert all(0 < float(line.cells[at]) < 100 for line in lines)


def test_another_kind_of_file_is_refused(studio: Studio, tmp_path: Path) -> None:
    with pytest.raises(BadRequest, match=r"\.csv or as \.xlsx"):
        export_paints(studio, tmp_path / "list.docx")
