"""Pages to carry: everything inside, nothing private, nothing of elsewhere."""

from __future__ import annotations

import re
from base64 import b64decode, b64encode
from datetime import datetime
from hashlib import sha256
from html import unescape
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

import halfpan
from halfpan.core.paint.paint import Paint
from halfpan.errors import UnknownChart, Unwritable
from halfpan.files.carried import smaller
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.share_paints import (
    share_chart,
    share_collection,
    share_pocket,
    share_table,
    write_page,
)
from halfpan.studio.studio import Studio
from halfpan.studio.wish import wish_for

LIST = """maker,range,name,codes,notes,price,place
Tidewater,Ebb,Harbour Blue,PB29,from my aunt,12.50,left drawer
Old Quarry,,<b>Sand</b>,PY43,,,
"""


@pytest.fixture
def stocked(studio: Studio, now: datetime, tmp_path: Path) -> Studio:
    add_paints(studio, parse_table(LIST), now=now)
    rule_chart(studio, ChartWish(title="Two & more"), tmp_path / "c.pdf", now=now, new_id=lambda: "TEST23")
    return studio


@pytest.fixture
def pages(stocked: Studio, now: datetime) -> dict[str, str]:
    wish_for(stocked, Paint("", "Larkspur Mill", "", "Hoped Rose", ("PV19",)), "dawn skies", now=now)
    return {
        "pocket": share_pocket(stocked, now=now),
        "collection": share_collection(stocked, now=now),
        "chart": share_chart(stocked, "test23", now=now),
        "table": share_table(stocked, "TEST23", now=now),
    }


def test_every_page_has_all_it_needs_inside(pages: dict[str, str]) -> None:
    for name, page in pages.items():
        assert not re.search(r"(?:src|href)=\"?(?!data:)[^\"]", page), name
        assert not re.search(r"https?:", page), name
        assert not re.search(r"url\((?!data:)", page), name


def test_every_page_runs_its_own_script_and_no_other(pages: dict[str, str]) -> None:
    for page in pages.values():
        (script,) = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
        own = b64encode(sha256(script.encode()).digest()).decode()
        assert "default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; " in page
        assert f"script-src 'sha256-{own}'" in page


def test_every_page_tells_its_day_its_version_and_that_colours_are_approximate(
    pages: dict[str, str], now: datetime
) -> None:
    for page in pages.values():
        assert f"{now.day} {now:%B %Y}" in page
        assert f"Halfpan {halfpan.__version__}" in page
        assert "Screen colours are approximate." in page


def test_notes_prices_and_places_stay_at_home(pages: dict[str, str]) -> None:
    for page in pages.values():
        for private in ("my aunt", "12.5", "left drawer", "dawn skies"):
            assert private not in page


def test_names_are_text_and_never_markup(pages: dict[str, str]) -> None:
    for page in pages.values():
        assert "<b>Sand</b>" not in page
        assert "<b>Sand</b>" in unescape(page)


def test_the_pocket_list_tells_owned_from_wished_and_answers_to_pigment_names(pages: dict[str, str]) -> None:
    states = dict(re.findall(r'data-state="(\w+)" data-words="([^"]+)"', pages["pocket"])[::-1])
    assert "Hoped Rose" in states["wished"]
    assert "ultramarine" in pages["pocket"].lower()  # the usual name of PB29, which this label does not use
    assert "2 paints owned, 1 wished" in pages["pocket"]
    assert "Hoped Rose" not in pages["collection"]


def test_a_chart_that_is_not_there_is_refused(stocked: Studio, now: datetime) -> None:
    for share in (share_chart, share_table):
        with pytest.raises(UnknownChart):
            share(stocked, "ZZZ", now=now)


def test_a_page_that_cannot_be_written_is_refused_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(Unwritable, match="cannot be written"):
        write_page(tmp_path / "absent" / "p.html", "page")


def test_pictures_are_made_smaller_and_never_larger() -> None:
    large = BytesIO()
    Image.new("RGB", (212, 320), (200, 30, 40)).save(large, "PNG")
    with Image.open(BytesIO(smaller(large.getvalue(), 88))) as small:
        assert small.size == (88, 133)
    with Image.open(BytesIO(smaller(large.getvalue(), 900))) as same:
        assert same.size == (212, 320)


def test_letters_of_a_page_are_real_fonts(pages: dict[str, str]) -> None:
    fonts = re.findall(r"data:font/woff2;base64,([A-Za-z0-9+/=]+)", pages["table"])
    assert len(fonts) == 4
    assert {b64decode(font)[:4] for font in fonts} == {b"wOF2"}


def test_all_the_colour_of_a_page_is_paint(pages: dict[str, str]) -> None:
    style = re.findall(r"<style>(.*?)</style>", pages["pocket"], re.DOTALL)[0]
    greys = re.findall(r"#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})\b", style)
    assert len(greys) > 10
    assert all(red == green == blue for red, green, blue in greys)
