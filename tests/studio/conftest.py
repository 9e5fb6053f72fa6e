"""A new, empty studio for each test."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from halfpan.collection import paints
from halfpan.core.chart.sheet import Chart
from halfpan.demo.film import Film
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.scanner import scan
from halfpan.demo.studio_paints import studio_paints
from halfpan.demo.truth import Truth
from halfpan.files.pdf import page_picture
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.studio import Studio, open_studio

DPI = 200
NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


@pytest.fixture
def now() -> datetime:
    return NOW


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Studio]:
    monkeypatch.delenv("HALFPAN_DATABASE", raising=False)
    opened = open_studio(tmp_path / "studio")
    yield opened
    opened.close()


@dataclass(frozen=True)
class PaintedChart:
    """A chart ruled in a studio, painted by the virtual painter and scanned."""

    studio: Studio
    chart: Chart
    scan: Path
    truth: Truth
    films: dict[str, Film]
    printed: NDArray[np.uint8]


@pytest.fixture(scope="session")
def painted_template(tmp_path_factory: pytest.TempPathFactory) -> PaintedChart:
    """Paint one small chart for all tests; each gets its own copy of the studio."""
    folder = tmp_path_factory.mktemp("painted")
    studio = open_studio(folder / "studio")
    by_family = {one.family: one for one in studio_paints() if len(one.paint.codes) == 1}
    chosen = list(by_family.values())[::3][:3]
    with studio.transaction() as db:
        ids = paints.add_all(db, [one.paint for one in chosen], now=NOW)
    wish = ChartWish(sheet="A5", order="given")
    chart, _ = rule_chart(studio, wish, folder / "chart.pdf", now=NOW)
    films = dict(zip(ids, (one.film for one in chosen), strict=True))
    printed = page_picture((folder / "chart.pdf").read_bytes(), 1, DPI)
    painted, truth = paint_sheet(
        chart, chart.pages[0], printed, films, rng=np.random.default_rng(7), dpi=DPI, paper=paper_of()
    )
    (folder / "scan.jpg").write_bytes(scan(painted, rng=np.random.default_rng(8)).file)
    studio.close()
    return PaintedChart(studio, chart, folder / "scan.jpg", truth, films, printed)


@pytest.fixture
def painted(painted_template: PaintedChart, tmp_path: Path) -> Iterator[PaintedChart]:
    shutil.copytree(painted_template.studio.folder, tmp_path / "painted studio")
    studio = open_studio(tmp_path / "painted studio")
    yield replace(painted_template, studio=studio)
    studio.close()
