"""Pages in Chromium: by pointer, by keys alone, on a phone; nothing asked of another computer."""

from __future__ import annotations

import os
import re
import shutil
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import expect

from halfpan.demo.run import fill_invented_studio
from halfpan.demo.studio_paints import studio_paints
from halfpan.studio.studio import open_studio

from .conftest import serve

pytestmark = pytest.mark.browser
expect.set_options(timeout=20_000)  # the first visit to a page cuts its photo into boxes meanwhile

PICTURES = Path(__file__).resolve().parents[2] / "docs" / "pictures"
WIDE, NARROW = {"width": 1440, "height": 900}, {"width": 390, "height": 844}
CHOSEN = [one for one in studio_paints() if len(one.paint.codes) == 1][3:60:7][:6]
LIST = "\n".join(f"{one.paint.maker}; {one.paint.name}; {one.paint.codes[0]}" for one in CHOSEN)


@pytest.fixture
def visit(chromium):
    """Open pages that fail the test on any console error or any request to elsewhere."""
    opened = []

    def open_page(url: str, size=WIDE, **choices):
        context = chromium.new_context(viewport=size, reduced_motion="reduce", **choices)
        page = context.new_page()
        faults: list[str] = []
        page.on("console", lambda m: faults.append(m.text) if m.type in {"error", "warning"} else None)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on(
            "request", lambda r: None if r.url.startswith((url, "blob:", "data:")) else faults.append(r.url)
        )
        page.set_default_timeout(20_000)
        opened.append((context, faults))
        return page

    yield open_page
    for context, faults in opened:
        context.close()
        assert faults == []


def drag_by_finger(page, *points) -> None:
    """Lay a finger on the first point, lead it through the others, and lift it."""
    hand = page.context.new_cdp_session(page)
    for number, (x, y) in enumerate(points):
        kind = "touchMove" if number else "touchStart"
        hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y}]})
    hand.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    hand.detach()


def fits(page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_the_wall_by_keys_alone(served, visit):
    page = visit(served.url)
    page.goto(f"{served.url}/paints?sort=mine")
    page.keyboard.press("/")
    page.keyboard.type("PR")
    shown = page.locator(".tile:not([hidden])")
    expect(shown).not_to_have_count(8)
    assert "find=PR" in page.url
    page.keyboard.press("Control+a")
    page.keyboard.press("Delete")
    expect(shown).to_have_count(8)
    page.get_by_role("button", name="Lift and move").focus()
    page.keyboard.press("Enter")
    page.locator(".tile a").first.focus()
    lifted = page.evaluate("document.activeElement.closest('.tile').dataset.paint")
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    with page.expect_response("**/paints/order"):
        page.keyboard.press("Space")
    page.reload()
    order = page.eval_on_selector_all(".tile", "all => all.map(one => one.dataset.paint)")
    assert order.index(lifted) == 2
    page.locator(".tile a").first.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.wait_for_url("**/paints/p*")


def test_a_box_is_lifted_and_moved_by_pointer(served, visit):
    page = visit(served.url)
    page.goto(f"{served.url}/paints?sort=mine")
    page.get_by_role("button", name="Lift and move").click()
    tiles = page.locator(".tile")
    first = tiles.first.get_attribute("data-paint")
    start, end = tiles.first.bounding_box(), tiles.nth(3).bounding_box()
    page.mouse.move(start["x"] + 40, start["y"] + 40)
    page.mouse.down()
    page.mouse.move(end["x"] + 60, end["y"] + 40, steps=12)
    with page.expect_response("**/paints/order"):
        page.mouse.up()
    page.reload()
    assert tiles.nth(3).get_attribute("data-paint") == first


def test_paints_are_compared_side_by_side(served, visit):
    page = visit(served.url)
    page.goto(f"{served.url}/paints")
    page.get_by_role("button", name="Compare").click()
    page.locator(".tile a").nth(0).click()
    page.locator(".tile a").nth(2).click()
    page.get_by_role("link", name="Lay them side by side").click()
    page.wait_for_url(re.compile(r"/compare\?"))
    assert page.locator(".side-by-side figure").count() == 2
    page.get_by_role("button", name="mid grey").first.click()
    grey = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert grey == "rgb(140, 140, 140)"


def test_a_box_is_moved_by_pointer_on_the_photo(served, visit, painted):
    page = visit(served.url)
    page.goto(f"{served.url}/charts/{painted.chart}/review")
    box = page.locator('[data-box="3"]').bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2 + 14, box["y"] + box["height"] / 2, steps=6)
    page.mouse.up()
    assert page.locator("[data-nudge-words]").inner_text().startswith("Box 3 moved by")
    page.get_by_role("button", name="Put it back").click()
    assert page.locator("[name=x_mm]").input_value() == "0"


ADDRESSES = (
    "/paints",
    "/paints?view=table",
    "/paints/p2",
    "/paints/p8",
    "/paints/add",
    "/compare?paint=p1&paint=p2",
    "/charts",
    "/charts/new?which=all",
    "/charts/rule",
    "/charts/TEST23",
    "/charts/TEST23/review",
    "/history",
)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_is_usable_by_all_and_fits(served, visit, scheme):
    faults = []
    for size, width in ((WIDE, "1440"), (NARROW, "390")):
        page = visit(served.url, size, color_scheme=scheme)
        for address in ADDRESSES:
            page.goto(served.url + address)
            page.wait_for_load_state("networkidle")
            if not fits(page):
                faults.append(f"{address} scrolls sideways at {width}")
            if width == "1440" or scheme == "light":
                found = Axe().run(page)
                faults += [
                    f"{address} {width}: {one['id']} {one['nodes'][0]['html'][:120]}"
                    for one in found.response["violations"]
                ]
    assert faults == []


def test_a_paint_can_be_read_on_every_surround(served, visit):
    page = visit(served.url)
    faults = []
    for surround in ("white", "mid", "dark"):
        page.context.add_cookies([{"name": "halfpan_surround", "value": surround, "url": served.url}])
        page.goto(f"{served.url}/paints/p2")
        assert page.locator("html").get_attribute("data-surround") == surround
        faults += [
            f"{surround}: {one['id']} {one['nodes'][0]['html'][:120]}"
            for one in Axe().run(page).response["violations"]
        ]
    assert faults == []


def test_the_first_visit_is_usable_by_all(served_empty, visit):
    page = visit(served_empty.url)
    page.goto(served_empty.url)
    found = Axe().run(page).response["violations"]
    assert [f"{one['id']} {one['nodes'][0]['html'][:120]}" for one in found] == []
    page.get_by_role("textbox").first.fill(LIST)
    page.reload()
    assert page.get_by_role("textbox").first.input_value() == LIST
    page.get_by_role("button", name="Look at the list").click()
    page.wait_for_url("**/paints/list/*")
    found = Axe().run(page).response["violations"]
    assert [f"{one['id']} {one['nodes'][0]['html'][:120]}" for one in found] == []


def test_the_paints_can_be_used_without_a_script(served, visit):
    page = visit(served.url, java_script_enabled=False)
    page.goto(f"{served.url}/paints")
    page.get_by_label("Find a paint").fill("PB")
    page.get_by_role("button", name="Show", exact=True).click()
    page.wait_for_url("**find=PB*")
    assert 0 < page.locator(".tile").count() < 8
    page.locator(".tile a").first.click()
    page.wait_for_url("**/paints/p*")
    assert "PB" in page.locator(".meta").inner_text()


if os.environ.get("HALFPAN_PICTURES"):

    def test_pictures_of_every_page_for_the_documentation(visit, tmp_path):
        studio = open_studio(tmp_path / "estuary")
        filled = fill_invented_studio(studio, now=datetime.now(UTC))
        (studio.folder / "charts").mkdir()
        for ruled, pdf in filled.prints:
            shutil.copyfile(pdf, studio.folder / "charts" / f"{ruled.chart}.pdf")
        studio.close()
        chart = filled.chart.chart
        pages = {
            "paints": "/paints",
            "paints-table": "/paints?view=table",
            "paint": "/paints/p20",
            "compare": "/compare?paint=p17&paint=p18&paint=p20&paint=p21",
            "charts": "/charts",
            "chart": f"/charts/{chart}",
            "chart-new": "/charts/new?which=all",
            "rule": "/charts/rule",
            "review": f"/charts/{chart}/review",
            "history": "/history",
            "mixes": "/mixes?paint=p59&parts=1&paint=p41&parts=2",
            "match": "/mixes/match?colour=45,-20,30",
            "next-mixes": "/mixes/next",
            "tins": "/tins",
            "tin": "/tins/1",
            "light-tests": "/light",
            "light-test": "/light/1",
            "stock": "/stock",
            "pigments": "/pigments",
            "pigment": "/pigments/PB29",
            "papers": "/papers",
        }
        for served in serve(studio.folder):
            for size, scheme, more in ((WIDE, "light", ""), (WIDE, "dark", "-dark"), (NARROW, "light", "")):
                page = visit(served.url, size, color_scheme=scheme)
                for name, address in pages.items():
                    page.goto(served.url + address, timeout=60_000)
                    page.wait_for_load_state("networkidle", timeout=60_000)
                    if name == "rule":
                        lay_grid(page, filled.chart, studio.folder / "demo" / "chart-1-scan.jpg", tmp_path)
                    keep_picture(page, f"{name}-{size['width']}{more}")
        for served in serve(tmp_path / "empty"):
            page = visit(served.url)
            page.goto(served.url)
            keep_picture(page, "first-visit-1440")
            page.get_by_role("textbox").first.fill(LIST)
            page.get_by_role("button", name="Look at the list").click()
            page.wait_for_url("**/paints/list/*")
            keep_picture(page, "list-1440")

    def lay_grid(page, chart, scan, where) -> None:
        """Give the page a photo of boxes without their printed marks, and lay a grid over them."""
        boxes = [box.strokes[0].rect for box in chart.pages[0].boxes]
        left, top = min(one.x for one in boxes) - 4, min(one.y for one in boxes) - 4
        right = left + (max(one.x for one in boxes) - 4 - left) * 6 / 5
        bottom = top + (max(one.y for one in boxes) - 4 - top) * 5 / 4
        with Image.open(scan) as whole:
            mm = whole.width / chart.sheet.width_mm
            seen = [(left - 8) * mm, (top - 8) * mm, (right + 8) * mm, (bottom + 8) * mm]
            whole.crop(tuple(map(round, seen))).save(where / "older.jpg")
        x, y = (8 + right - left) * mm, (8 + bottom - top) * mm
        page.locator("[name=photo]").set_input_files(where / "older.jpg")
        page.get_by_role("button", name="Corner 1").wait_for()
        for field, value in (("rows", "5"), ("columns", "6")):
            page.locator(f"[name={field}]").fill(value)
        corners = f"{8 * mm:.0f},{8 * mm:.0f} {x:.0f},{8 * mm:.0f} {x:.0f},{y:.0f} {8 * mm:.0f},{y:.0f}"
        page.locator("[name=corners]").fill(corners)
        page.locator("[name=corners]").blur()

    def keep_picture(page, name: str) -> None:
        """Keep what a painter sees first of a page, in few colours so that it stays small."""
        PICTURES.mkdir(parents=True, exist_ok=True)
        with Image.open(BytesIO(page.screenshot())) as shot:
            shot.convert("RGB").quantize(160).save(PICTURES / f"{name}.png", optimize=True)
