"""What a page draws anew as one chooses, in Chromium: a new chart's kind, a mix's paper, a tin's lid card."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from halfpan.collection.papers import Paper
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.correct_paint import correct_paint
from halfpan.studio.keep_paper import add_paper
from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.mix_log import log_mix
from halfpan.studio.review import Which, accept
from halfpan.studio.studio import open_studio
from halfpan.studio.wish import wish_by_label

from .conftest import NOW
from .test_browser import NARROW, WIDE, fits, visit  # noqa: F401 (a fixture)

pytestmark = pytest.mark.browser


@pytest.fixture
def lived_in(painted):
    """A studio with proof, a mix, a measured paper, a tin, a wish, and a chart whose label has changed."""
    studio = open_studio(painted.folder)
    accept(studio, Which(chart=painted.chart), now=NOW)
    log_mix(studio, "2 p1 + 1 p2", lab=(40.0, 10.0, 20.0), now=NOW)
    add_paper(studio, Paper("Cream rag", lab=(90.0, 1.0, 9.0)), now=NOW)
    new_tin(studio, "Harbour", ["3h", "3h"], now=NOW)
    fill_tin(studio, "Harbour", ["p1", "p2", "p3", "p4"], now=NOW)
    correct_paint(studio, "p3", now=NOW, name="Another Name")
    correct_paint(studio, "p3", now=NOW, notes="Twice.")
    wish_by_label(studio, "Hoped For", "PB29", why="skies", now=NOW)
    add_paints(studio, parse_table("Tidewater, Estuary Blue, PB29"), now=NOW)
    studio.close()


def test_the_sheet_is_drawn_anew_for_every_kind_of_chart(lived_in, served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(f"{served.url}/charts/new?which=all")
    preview = page.locator("[data-preview]")
    expect(preview).to_contain_text("boxes")
    page.get_by_role("radio", name="tests").check(force=True)
    expect(page.get_by_label("lifting")).to_be_visible()
    expect(page.get_by_label("Boxes to spare")).to_be_hidden()
    page.get_by_label("lifting").check()
    expect(preview).to_contain_text("Lifting")
    expect(preview).not_to_contain_text("Three times the same")
    page.get_by_role("radio", name="mixes").check(force=True)
    expect(page.get_by_label("lifting")).to_be_hidden()
    which = page.locator("[data-adding] select")
    for label in (0, 1):
        which.select_option(index=label)
        page.get_by_role("button", name="Add one part of it").click()
    expect(preview).to_contain_text("1 : 1")
    written = page.get_by_label("Mixes, one to a line").input_value()
    assert written.count(" + ") == 1
    page.reload()  # nothing that was chosen is lost
    assert page.get_by_label("Mixes, one to a line").input_value() == written
    page.get_by_role("button", name="Make this chart").click()
    expect(page.get_by_role("link", name="Open the sheet to print")).to_be_visible()


def test_a_mix_is_drawn_anew_for_another_paper(lived_in, served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(f"{served.url}/mixes?paint=p1&parts=2&paint=p2&parts=1")
    steps = page.locator(".steps li").first
    before = steps.text_content()
    page.get_by_label("On which paper").select_option("Cream rag")
    page.wait_for_url("**paper=Cream+rag**")
    assert steps.text_content() != before
    expect(page.locator(".plot .proof-mark")).to_have_count(1)


def test_the_lid_card_follows_every_move(lived_in, served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(f"{served.url}/tins/1")
    card = page.locator("[data-lid] svg").first
    name = page.locator('[data-seat="A1"]').get_attribute("data-name").split()[0]
    expect(card).to_contain_text(name)
    page.get_by_label("Inside width, mm").fill("100")
    expect(page.locator('[data-lid] svg[width="100mm"]')).to_have_count(1)
    page.locator('[data-seat="A1"]').focus()
    page.keyboard.press("Delete")
    expect(card).not_to_contain_text(name)
    expect(page.locator('[data-lid] svg[width="100mm"]')).to_have_count(1)
    page.get_by_label("Print your own painted boxes").check()
    expect(page.locator("[data-lid] image").first).to_be_attached()


def test_the_closer_look_names_its_buttons(lived_in, served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(f"{served.url}/paints/p2")
    page.locator("[data-zoom]").click()
    for name in ("Nearer", "Farther", "Close"):
        expect(page.get_by_role("button", name=name, exact=True)).to_be_visible()
    page.get_by_role("button", name="Close", exact=True).click()
    expect(page.locator(".zoom-view")).to_have_count(0)


ADDRESSES = (
    "/charts",
    "/charts/new?kind=tests&which=chosen&paint=p1",
    "/charts/new?kind=mixes&mixes=2+p1+%2B+1+p2",
    "/mixes?paint=p1&parts=2&paint=p2&parts=1&paper=Cream+rag",
    "/tins/1",
    "/paints/p3",
    "/paints/p9",
)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["1440", "390"])
def test_nothing_stands_in_anybodys_way(lived_in, served, visit, size, scheme):  # noqa: F811
    page = visit(served.url, size, color_scheme=scheme)
    for address in ADDRESSES:
        page.goto(served.url + address)
        assert fits(page), address
        found = Axe().run(page)
        assert found.violations_count == 0, (address, found.generate_report())
