"""Tins, mixes, papers, pigments and stock in Chromium: by keys, by pointer, by touch, and for everybody."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import expect

from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.review import Which, accept
from halfpan.studio.studio import open_studio

from .conftest import NOW
from .test_browser import NARROW, WIDE, drag_by_finger, fits, visit  # noqa: F401 (a fixture)

pytestmark = pytest.mark.browser


@pytest.fixture
def tin(painted):
    """A tin of two rows of three with p1 to p4 in it, in the studio that is served."""
    studio = open_studio(painted.folder)
    new_tin(studio, "Harbour", ["3h", "3h"], now=NOW)
    fill_tin(studio, "Harbour", ["p1", "p2", "p3", "p4"], now=NOW)
    studio.close()
    return "/tins/1"


def sits(page, seat):
    return page.locator(f'[data-seat="{seat}"]').get_attribute("data-paint")


def test_pans_are_moved_by_keys_alone_and_every_move_is_said(tin, served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(served.url + tin)
    spoken = page.get_by_role("status")
    page.locator('[data-seat="A1"]').focus()
    name = page.locator('[data-seat="A1"]').get_attribute("data-name")
    page.keyboard.press("Space")
    expect(spoken).to_have_text(f"Lifted {name}, from seat A1.")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Space")
    expect(spoken).to_have_text(f"{name} is now in seat B2.")
    assert sits(page, "B2") == "p1"
    assert page.evaluate("document.activeElement.dataset.seat") == "B2"
    page.keyboard.press("l")
    expect(spoken).to_contain_text("free to be seated")  # a pan moved by hand stays until it is freed
    page.keyboard.press("Space")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Escape")
    expect(spoken).to_have_text(f"{name} is back where it was.")
    page.keyboard.press("Delete")
    expect(spoken).to_have_text(f"{name} lies on the table.")
    expect(page.locator('[data-table-paint="p1"]')).to_have_count(1)


def test_a_pan_is_dragged_onto_another_and_a_paint_from_the_table_into_a_seat(tin, served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(served.url + tin)

    def drag(start, end):
        a, b = start.bounding_box(), end.bounding_box()
        page.mouse.move(a["x"] + a["width"] / 2, a["y"] + 20)
        page.mouse.down()
        page.mouse.move(b["x"] + b["width"] / 2, b["y"] + 20, steps=8)
        page.mouse.up()

    drag(page.locator('[data-seat="A1"]'), page.locator('[data-seat="A3"]'))
    expect(page.get_by_role("status")).to_contain_text("went to seat A1")
    assert (sits(page, "A1"), sits(page, "A3")) == ("p3", "p1")
    drag(page.locator('[data-table-paint="p6"]'), page.locator('[data-seat="B3"]'))
    expect(page.get_by_role("status")).to_contain_text("is now in seat B3")
    assert sits(page, "B3") == "p6"


def test_two_touches_move_a_pan_on_a_phone(tin, served, visit):  # noqa: F811
    page = visit(served.url, NARROW, has_touch=True)
    page.goto(served.url + tin)
    page.locator('[data-seat="A2"]').tap()
    expect(page.get_by_role("status")).to_contain_text("Lifted")
    page.locator('[data-seat="B3"]').tap()
    expect(page.get_by_role("status")).to_contain_text("is now in seat B3")
    assert sits(page, "B3") == "p2"
    page.get_by_role("button", name="Take the last move back").click()
    page.wait_for_url("**did=*")
    assert sits(page, "A2") == "p2"


def test_a_pan_is_dragged_by_a_finger_without_the_page_scrolling_away(tin, served, visit):  # noqa: F811
    page = visit(served.url, NARROW, has_touch=True, is_mobile=True)
    page.goto(served.url + tin)
    start, end = (page.locator(f'[data-seat="{seat}"]').bounding_box() for seat in ("A1", "B3"))
    (x, y), (right, down) = ((one["x"] + one["width"] / 2, one["y"] + 30) for one in (start, end))
    drag_by_finger(page, (x, y), ((x + right) / 2, (y + down) / 2), (right, down))
    expect(page.get_by_role("status")).to_contain_text("is now in seat B3")
    assert sits(page, "B3") == "p1"
    assert page.evaluate("scrollY") == 0


@pytest.fixture
def accepted(painted):
    """All readings accepted, so that mixes can be worked out."""
    studio = open_studio(painted.folder)
    accept(studio, Which(chart=painted.chart), now=NOW)
    studio.close()


def test_a_slider_moves_its_number_and_the_prediction_follows(accepted, served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(f"{served.url}/mixes?paint=p1&parts=1&paint=p2&parts=1")
    before = page.locator(".band .middle .num").inner_text()
    page.locator("[data-slide]").first.focus()
    for _ in range(8):
        page.keyboard.press("ArrowRight")
    expect(page.locator(".band .middle .num")).not_to_have_text(before)
    assert page.locator("[data-parts]").first.input_value() == "5"
    page.wait_for_url("**parts=5**")  # the address follows the last step, not each
    expect(page.locator("[data-mix-says]")).to_contain_text("5 parts of")
    page.get_by_label("What you call it").fill("Harbour grey")
    page.get_by_role("button", name="Note it").click()
    page.get_by_text("Harbour grey").first.wait_for()


def test_a_colour_is_picked_from_a_picture_that_goes_nowhere(accepted, served, visit, tmp_path):  # noqa: F811
    picture = tmp_path / "sea.png"
    Image.new("RGB", (40, 30), (90, 110, 60)).save(picture)
    page = visit(served.url)
    page.goto(f"{served.url}/mixes/match")
    sent = []
    page.on("request", lambda asked: sent.append(asked.url) if asked.method == "POST" else None)
    page.get_by_label("A reference picture").set_input_files(picture)
    expect(page.locator("[data-colour]")).to_have_value("#5a6e3c")
    page.locator("[data-canvas]").click(position={"x": 5, "y": 5})
    expect(page.locator("[data-picked]")).to_contain_text("#5a6e3c")
    page.get_by_role("button", name="Find mixes").click()
    page.get_by_role("heading", name="Predicted").wait_for()
    assert page.locator(".match").count() > 0
    assert sent == []


ADDRESSES = (
    "/tins",
    "/tins/1",
    "/mixes?paint=p1&parts=2&paint=p2&parts=1",
    "/mixes/match?colour=%235a6e3c",
    "/mixes/next?boxes=3",
    "/mixes/log",
    "/light",
    "/stock",
    "/pigments",
    "/pigments/PB29",
    "/papers",
)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_each_of_these_pages_is_usable_by_all_and_fits(tin, accepted, served, visit, scheme):  # noqa: F811
    faults = []
    for size, width in ((WIDE, "1440"), (NARROW, "390")):
        page = visit(served.url, size, color_scheme=scheme)
        for address in ADDRESSES:
            page.goto(served.url + address)
            page.wait_for_load_state("networkidle")
            if not fits(page):
                faults.append(f"{address} scrolls sideways at {width}")
            if width == "1440" or scheme == "light":
                found = Axe().run(page).response["violations"]
                faults += [f"{address} {width}: {one['id']} {one['nodes'][0]['html'][:120]}" for one in found]
    assert faults == []
