"""Charts ruled by hand, on the page: corners by keys and by hand, paints from a list, plain refusals."""

from __future__ import annotations

import struct
import zlib

import cv2
import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from halfpan.studio.follow_tin import rule_tin_chart
from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.place_pan import place_pan
from halfpan.studio.studio import open_studio

from .conftest import NOW, page_over
from .test_browser import NARROW, WIDE, drag_by_finger, fits, visit  # noqa: F401 (a fixture)
from .test_pages import finished

COLOURS = np.array(
    [[[200, 40, 40], [220, 150, 30], [60, 120, 50]], [[40, 60, 140], [120, 80, 50], [150, 60, 130]]]
)
CORNERS = "100,80 400,80 400,280 100,280"


@pytest.fixture
def sheet(tmp_path):
    """Six painted boxes in two rows on bright paper."""
    picture = np.full((360, 500, 3), 243, dtype=np.uint8)
    for row in range(2):
        for column in range(3):
            top, left = 80 + 100 * row, 100 + 100 * column
            picture[top + 6 : top + 94, left + 6 : left + 94] = COLOURS[row, column]
    grain = np.random.default_rng(1).normal(0, 1.5, picture.shape)
    cv2.imwrite(str(tmp_path / "old.png"), np.clip(picture + grain, 0, 255).astype(np.uint8)[..., ::-1])
    return tmp_path / "old.png"


def given(page, sheet, **more):
    fields = {"rows": "2", "columns": "3", "corners": CORNERS, "paints": "p2\np1\n", "order": "column"}
    files = {"photo": (sheet.name, sheet.read_bytes())}
    return page.post("/charts/rule", data={**page.form, **fields, **more}, files=files)


def test_a_hand_ruled_chart_is_read_and_waits_to_be_looked_over(page, sheet):
    job = finished(page, given(page, sheet))
    assert job["state"] == "done", job
    review = page.get(job["result"])
    assert review.status_code == 200
    chart = job["result"].split("/")[2]
    boxes = {
        box["box"]: box.get("paint")
        for sheet_page in page.get(f"/api/charts/{chart}").json()["pages"]
        for box in sheet_page["boxes"]
    }
    assert len(boxes) == 6
    assert (boxes["A1"], boxes["B1"]) == ("p2", "p1")  # column by column


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"corners": "1,2 3"}, "four points in pixels"),
        ({"rows": ""}, "how many rows"),
        ({"rows": "-1"}, "whole numbers from 1"),
        ({"paints": "no such paint"}, "no such paint"),
    ],
)
def test_what_cannot_be_meant_is_refused_in_a_sentence(page, sheet, more, sentence):
    answer = given(page, sheet, **more)
    assert 400 <= answer.status_code < 500
    assert sentence in answer.text


def test_a_picture_of_too_many_pixels_is_refused_by_its_header(page):
    header = struct.pack(">IIBBBBB", 40_000, 40_000, 8, 2, 0, 0, 0)
    chunk = b"IHDR" + header
    png = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + chunk + struct.pack(">I", zlib.crc32(chunk))
    data = b"IDAT" + zlib.compress(b"\0" * 64)
    png += struct.pack(">I", len(data) - 4) + data + struct.pack(">I", zlib.crc32(data))
    answer = page.post("/charts/read", data=page.form, files={"photo": ("wide.png", png)})
    job = finished(page, answer)
    assert job["state"] == "failed"
    assert job["words"].startswith("wide.png has more than 150 million pixels")


def test_a_chart_whose_tin_was_filled_anew_is_out_of_date_on_the_list(painted):
    studio = open_studio(painted.folder)
    new_tin(studio, "Harbour", ["3h"], now=NOW)
    fill_tin(studio, "Harbour", ["p1", "p2"], now=NOW)
    rule_tin_chart(studio, ["Harbour"], studio.folder / "harbour.pdf", now=NOW)
    studio.close()
    with page_over(painted.folder) as page:
        assert "Out of date" not in page.get("/charts").text
    studio = open_studio(painted.folder)
    place_pan(studio, "Harbour", "p5", "A1", now=NOW)
    studio.close()
    with page_over(painted.folder) as page:
        assert "Out of date" in page.get("/charts").text


@pytest.mark.browser
def test_corners_are_set_by_keys_and_the_boxes_read(served, visit, sheet):  # noqa: F811
    page = visit(served.url)
    page.goto(f"{served.url}/charts/rule")
    page.locator("input[name=photo]").set_input_files(str(sheet))
    page.get_by_label("Rows").fill("2")
    page.get_by_label("Boxes in a row", exact=True).fill("3")
    circles = page.locator("circle.corner")
    expect(circles.first).to_be_visible()
    for k, (x, y) in enumerate([(100, 80), (400, 80), (400, 280), (100, 280)]):
        start = [50, 450, 450, 50][k], [36, 36, 324, 324][k]
        circles.nth(k).focus()
        for keys, way in (
            (("ArrowRight", "ArrowLeft"), x - start[0]),
            (("ArrowDown", "ArrowUp"), y - start[1]),
        ):
            key = keys[0] if way > 0 else keys[1]
            for _ in range(abs(way) // 20):
                page.keyboard.press(f"Shift+{key}")
            for _ in range(abs(way) % 20):
                page.keyboard.press(key)
    expect(page.locator("input[name=corners]")).to_have_value("100.0,80.0 400.0,80.0 400.0,280.0 100.0,280.0")
    page.get_by_role("button", name="Read the boxes").press("Enter")
    page.wait_for_url("**/review**", timeout=60_000)
    expect(page.locator("[data-box]")).to_have_count(6)


@pytest.mark.browser
def test_a_corner_follows_a_finger(served, visit, sheet):  # noqa: F811
    page = visit(served.url, NARROW, has_touch=True, is_mobile=True)
    page.goto(f"{served.url}/charts/rule")
    page.locator("input[name=photo]").set_input_files(str(sheet))
    corner = page.locator("circle.corner").first
    corner.scroll_into_view_if_needed()
    before, place = page.evaluate("scrollY"), corner.bounding_box()
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    drag_by_finger(page, (x, y), (x + 20, y + 30), (x + 30, y + 60))
    pixels = 500 / page.locator("[data-picture]").bounding_box()["width"]
    moved = [float(one) for one in page.locator("[name=corners]").input_value().split()[0].split(",")]
    assert moved == pytest.approx([50 + 30 * pixels, 36 + 60 * pixels], abs=2)
    assert page.evaluate("scrollY") == before


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_page_is_usable_by_all_and_fits(served, visit, sheet, scheme, tmp_path):  # noqa: F811
    for size in (WIDE, NARROW):
        page = visit(served.url, size, color_scheme=scheme)
        page.goto(f"{served.url}/charts/rule")
        page.locator("input[name=photo]").set_input_files(str(sheet))
        expect(page.locator("circle.corner").first).to_be_visible()
        assert fits(page)
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
        page.screenshot(path=str(tmp_path / f"rule-{scheme}-{size['width']}.png"), full_page=True)
