"""A studio with one painted and read chart, the page over a copy of it, and a browser where there is one."""

from __future__ import annotations

import shutil
import socket
import threading
import time
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
import uvicorn
from fastapi import FastAPI

from halfpan.collection import changes, paints
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.scanner import scan
from halfpan.demo.studio_paints import studio_paints
from halfpan.files.pdf import page_picture
from halfpan.studio.measuring import ReadWish
from halfpan.studio.read_chart import read_chart
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.studio import open_studio
from halfpan.web.app import create_app

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it announces that it will want another library one day
    from fastapi.testclient import TestClient

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)
CHROMIUM = Path("/usr/bin/chromium")
FLAGS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip


@dataclass(frozen=True)
class Painted:
    """A studio with eight paints: a chart of six, painted and scanned, read and not looked over."""

    folder: Path
    chart: str
    scan: Path


@pytest.fixture(scope="session")
def painted_once(tmp_path_factory: pytest.TempPathFactory) -> Painted:
    folder = tmp_path_factory.mktemp("web")
    studio = open_studio(folder / "estuary")
    chosen = [one for one in studio_paints() if len(one.paint.codes) == 1][3:60:7][:8]
    with studio.transaction() as db, changes.noted(db, "added 8 paints from a list", now=NOW):
        ids = paints.add_all(db, [one.paint for one in chosen], now=NOW)
    wish = ChartWish(paints=",".join(ids[:6]), sheet="A5", title="First six", order="given")
    pdf = studio.folder / "charts"
    pdf.mkdir()
    chart, _ = rule_chart(studio, wish, pdf / "TEST23.pdf", now=NOW, new_id=lambda: "TEST23")
    films = dict(zip(ids, (one.film for one in chosen), strict=True))
    printed = page_picture((pdf / "TEST23.pdf").read_bytes(), 1, 150)
    rng = np.random.default_rng(7)
    sheet, _ = paint_sheet(chart, chart.pages[0], printed, films, rng=rng, dpi=150, paper=paper_of())
    photo = folder / "first-six.jpg"
    photo.write_bytes(scan(sheet, rng=np.random.default_rng(8)).file)
    read_chart(studio, [photo], ReadWish(review=True), now=NOW)
    studio.close()
    return Painted(studio.folder, chart.chart, photo)


@pytest.fixture
def painted(painted_once: Painted, tmp_path: Path) -> Painted:
    folder = tmp_path / "estuary"
    shutil.copytree(painted_once.folder, folder)
    return Painted(folder, painted_once.chart, painted_once.scan)


class Page(TestClient):
    """The page without a browser: keeps cookies, and knows the token that forms carry."""

    @property
    def form(self) -> dict[str, str]:
        self.get("/history")
        return {"token": self.cookies["halfpan_token"]}

    def change(self, url: str, data: dict[str, object] | None = None, **more: object):
        return self.post(url, data={**self.form, **(data or {})}, **more)


def page_over(folder: Path, **choices: object) -> Page:
    return Page(create_app(folder, clock=lambda: NOW, **choices), base_url="http://127.0.0.1:8330")


@pytest.fixture
def page(painted: Painted) -> Iterator[Page]:
    with page_over(painted.folder) as client:
        yield client


@pytest.fixture
def empty_page(tmp_path: Path) -> Iterator[Page]:
    with page_over(tmp_path / "empty") as client:
        yield client


# ---- a real server and a real browser --------------------------------------------------------------


@dataclass(frozen=True)
class Served:
    """A page served on a port of its own."""

    url: str
    folder: Path
    app: FastAPI


def serve(folder: Path, **choices: object) -> Iterator[Served]:
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    app = create_app(folder, **choices)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    for _ in range(200):
        if server.started:
            break
        time.sleep(0.05)
    yield Served(f"http://127.0.0.1:{listening.getsockname()[1]}", folder, app)
    server.should_exit = True
    thread.join(timeout=10)
    listening.close()


@pytest.fixture
def served(painted: Painted) -> Iterator[Served]:
    yield from serve(painted.folder)


@pytest.fixture
def served_empty(tmp_path: Path) -> Iterator[Served]:
    yield from serve(tmp_path / "empty")


@pytest.fixture(scope="session")
def chromium():
    if not CHROMIUM.exists():
        pytest.skip("Chromium is not installed (Debian's package chromium), so no browser can be driven")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        yield browser
        browser.close()
