"""At the table by finger and by keys, and pages to carry opened from a disk: in Chromium."""

from __future__ import annotations

import os

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from halfpan.collection import charts
from halfpan.core.paint.paint import Paint
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.share_paints import share_chart, share_collection, share_pocket, share_table
from halfpan.studio.studio import open_studio
from halfpan.studio.wish import wish_for

from .conftest import NOW
from .test_browser import NARROW, WIDE, fits, visit  # noqa: F401 (a fixture)

pytestmark = pytest.mark.browser

LIST = """maker,name,codes,health
Tidewater,Harbour Blue,PB29,
Tidewater,Rosé Dawn,PV19,
Old Quarry,Chalk,PW6:1,
Old Quarry,Deep Sea,PB28,Contains cobalt
"""
WET = 56
"""Least height of what a wet finger presses, in CSS pixels."""


@pytest.fixture
def evening(painted):
    """A chart of three paints that nobody has painted yet, in the studio that is served."""
    studio = open_studio(painted.folder)
    wish = ChartWish(paints="p1,p2,p3", order="given", title="Evening")
    rule_chart(studio, wish, painted.folder / "evening.pdf", now=NOW, new_id=lambda: "FRESH2")
    studio.close()
    return "/charts/FRESH2/table"


@pytest.fixture
def carried(tmp_path):
    """The pages to carry of a studio of four paints and a wish, each in a file."""
    studio = open_studio(tmp_path / "quay")
    add_paints(studio, parse_table(LIST), now=NOW)
    wish_for(studio, Paint("", "Larkspur Mill", "", "Hoped Ochre", ("PY43",)), "", now=NOW)
    wish = ChartWish(order="given", title="Quay")
    rule_chart(studio, wish, tmp_path / "c.pdf", now=NOW, new_id=lambda: "QUAY23")
    pages = {
        "pocket": share_pocket(studio, now=NOW),
        "paints": share_collection(studio, now=NOW),
        "chart": share_chart(studio, "QUAY23", now=NOW),
        "table": share_table(studio, "QUAY23", now=NOW),
    }
    studio.close()
    for name, page in pages.items():
        (tmp_path / f"{name}.html").write_text(page, "utf-8")
    return {name: (tmp_path / f"{name}.html").as_uri() for name in pages}


def shown(page):
    return page.locator("li[data-words]:visible b").all_text_contents()


def test_a_chart_is_painted_on_a_phone_by_touch_alone(evening, served, visit):  # noqa: F811
    page = visit(served.url, NARROW, has_touch=True, is_mobile=True)
    page.goto(served.url + evening)
    for box in ("1", "2", "3"):
        expect(page.locator(".number b")).to_have_text(box)
        for target in page.locator(".at-table .btn.wet, .every a").all():
            assert target.bounding_box()["height"] >= WET
        page.get_by_role("button", name="Painted: next box").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Every box is painted.")
    assert fits(page)


def test_a_chart_is_painted_by_keys_alone_with_a_line_about_it(evening, served, painted, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(served.url + evening)
    page.get_by_label("A line about it").focus()
    page.keyboard.type("two loads")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator(".number b")).to_have_text("2")
    studio = open_studio(painted.folder)
    with studio.look() as db:
        first = charts.box_states(db, "FRESH2")[0]
    studio.close()
    assert (first.painted, first.note) == (True, "two loads")


LOOKS = pytest.mark.parametrize("look", [(WIDE, "light"), (NARROW, "dark")], ids=["1440", "390"])


def looked_at(page, urls):
    for url in urls:
        page.goto(url)
        assert Axe().run(page).response["violations"] == [], url
        assert fits(page), url


@LOOKS
def test_axe_finds_nothing_at_the_table(evening, served, visit, look):  # noqa: F811
    page = visit(served.url, look[0], color_scheme=look[1])
    looked_at(page, [served.url + evening, f"{served.url}{evening}/1/2"])


@LOOKS
def test_axe_finds_nothing_on_pages_to_carry(carried, visit, look):  # noqa: F811
    looked_at(visit("file://", look[0], color_scheme=look[1]), carried.values())


def test_the_pocket_list_forgives_words_and_never_codes(carried, visit):  # noqa: F811
    page = visit("file://", NARROW)
    page.goto(carried["pocket"])
    field, answer = page.get_by_role("searchbox"), page.get_by_role("status")
    for typed, names, said in (
        ("harbour", ["Harbour Blue"], "1 owned answers to “harbour”."),
        ("PB 29", ["Harbour Blue"], "1 owned answers to “PB 29”."),
        ("pb2", ["Deep Sea", "Harbour Blue"], "2 owned answer to “pb2”."),
        ("pb27", [], "Nothing here answers to “pb27”."),
        ("ultramarine", ["Harbour Blue"], "1 owned answers to “ultramarine”."),
        ("ultramraine", ["Harbour Blue"], "Nothing is spelt “ultramraine”; near it: 1 owned."),
        ("rose dawn", ["Rosé Dawn"], "1 owned answers to “rose dawn”."),
        ("pw6", ["Chalk"], "1 owned answers to “pw6”."),
        ("ochre", ["Hoped Ochre"], "None owned answers to “ochre”. 1 wished."),
    ):
        field.fill(typed)
        expect(answer).to_have_text(said)
        assert sorted(shown(page)) == names
    page.get_by_role("button", name="Clear").click()
    expect(answer).to_have_text("")
    assert len(shown(page)) == 5


def test_a_saved_chart_keeps_its_ticks_and_brings_them_back(carried, tmp_path, visit):  # noqa: F811
    page = visit("file://", NARROW, has_touch=True)
    page.goto(carried["table"])
    expect(page.locator("article:visible h2")).to_have_text("Harbour Blue")
    page.locator("article:visible").get_by_label("A line about it").fill("slow, grainy")
    page.locator("article:visible").get_by_label("Painted").tap()
    expect(page.locator("article:visible h2")).to_have_text("Rosé Dawn")
    page.reload()
    expect(page.locator("article:visible h2")).to_have_text("Rosé Dawn")
    expect(page.locator("#count")).to_have_text("1 of 4 painted.")
    notes = page.get_by_label("Notes to bring back").input_value()
    assert notes.splitlines()[:3] == ["halfpan boxes QUAY23", "1/1\tpainted\tslow, grainy", "1/2\t-"]


def test_pages_to_carry_hold_everything_where_no_script_runs(carried, visit):  # noqa: F811
    page = visit("file://", NARROW, java_script_enabled=False)
    page.goto(carried["table"])
    assert page.locator("article:visible").count() == 4
    page.goto(carried["pocket"])
    assert page.locator("li:visible b").count() == 5


if os.environ.get("HALFPAN_PICTURES"):

    def test_pictures_of_the_table_for_the_documentation(evening, served, visit):
        from .test_browser import keep_picture

        for size, name in ((WIDE, "1440"), (NARROW, "390")):
            page = visit(served.url, size)
            page.goto(served.url + evening)
            keep_picture(page, f"at-the-table-{name}")
