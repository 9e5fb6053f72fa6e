from __future__ import annotations

from datetime import datetime
from pathlib import Path

from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.report_paints import report_paints
from halfpan.studio.studio import Studio

LIST = """maker,range,name,codes,lightfastness,health
Tidewater,Ebb,Harbour Blue,PB29,excellent,
Tidewater,Ebb,Crimson,PR83,excellent,Contains <anilin> "lake"
Old Quarry,Earth and Stone,Ultramarine,PB29,,
Old Quarry,Earth and Stone,Ivory Black,PBI9,,
"""


def test_the_page_stands_alone_and_says_what_is_known(studio: Studio, now: datetime, tmp_path: Path) -> None:
    add_paints(studio, parse_table(LIST), now=now)
    page = report_paints(studio, tmp_path / "paints.html", now=now).read_text(encoding="utf-8")
    for words in (
        "4 paints, 0 of them painted and read",
        "The label and the literature disagree",
        "PBk9",
        "same codes, look unknown",
        "safety data sheet",
    ):
        assert words in page
    assert "http://" not in page.replace("http://www.w3.org", "")
    assert "https://" not in page


def test_what_a_label_prints_is_text_and_never_markup(studio: Studio, now: datetime, tmp_path: Path) -> None:
    add_paints(studio, parse_table(LIST), now=now)
    page = report_paints(studio, tmp_path / "paints.html", now=now).read_text(encoding="utf-8")
    assert "<anilin>" not in page
    assert "&lt;anilin&gt;" in page


def test_an_empty_studio_gets_its_page_too(studio: Studio, now: datetime, tmp_path: Path) -> None:
    page = report_paints(studio, tmp_path / "paints.html", now=now).read_text(encoding="utf-8")
    assert "0 paints" in page
