"""Pages to carry, written by command."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

LIST = "name,codes\nStraw,PY150\nRose,PV19\n"


@pytest.fixture
def chart(halfpan, tmp_path: Path) -> str:
    halfpan("paints", "add", "-", given=LIST)
    return json.loads(halfpan("chart", "new", "--out", str(tmp_path / "c.pdf"), "--json").out)["chart"]


@pytest.mark.parametrize("verb", ["paints", "pocket", "chart", "table"])
def test_every_page_is_one_file_that_names_the_paints(halfpan, chart: str, tmp_path: Path, verb: str) -> None:
    out = tmp_path / "page.html"
    words = [verb] if verb in {"paints", "pocket"} else [verb, chart]
    ran = halfpan("share", *words, "--out", str(out))
    assert (ran.code, ran.err) == (0, "")
    assert "one file" in ran.out
    page = out.read_text("utf-8")
    assert "Straw" in page
    assert "PV19" in page


def test_a_page_that_cannot_be_made_leaves_no_file(halfpan, chart: str, tmp_path: Path) -> None:
    refused = halfpan("share", "chart", "ZZZ", "--out", str(tmp_path / "page.html"))
    assert (refused.code, refused.out) == (1, "")
    assert chart in refused.err
    nowhere = halfpan("share", "pocket", "--out", str(tmp_path / "absent" / "page.html"))
    assert nowhere.code == 1
    assert "cannot be written" in nowhere.err
    assert not (tmp_path / "page.html").exists()
