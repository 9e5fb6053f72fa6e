"""Light tests on the page: begun, looked at, put right and ended."""

from __future__ import annotations

import os
import re
import shutil

import pytest
from axe_playwright_python.sync_playwright import Axe

from halfpan.studio.studio import open_studio
from halfpan.web.app import create_app
from studio.light_studio import at, hung_sheet, read_on

from .conftest import Page, serve
from .test_browser import NARROW, WIDE, fits, visit  # noqa: F401 (a fixture)

ADDRESSES = ("/light/1",)


@pytest.fixture(scope="module")
def hung_once(tmp_path_factory):
    folder = tmp_path_factory.mktemp("light")
    studio = open_studio(folder / "studio")
    sheet = hung_sheet(studio, folder)
    for days in (0, 90):
        read_on(studio, sheet.shot(folder, days), days)
    studio.close()
    return studio.folder, sheet


@pytest.fixture
def window(hung_once, tmp_path):
    folder, _ = hung_once
    shutil.copytree(folder, tmp_path / "studio")
    app = create_app(tmp_path / "studio", clock=lambda: at(121))
    with Page(app, base_url="http://127.0.0.1:8330") as client:
        yield client


def test_the_list_says_what_is_due_and_which_paints_to_test_first(page, window):
    text = window.get("/light").text
    assert "South window" in text
    assert "A look is due since day 120" in text
    assert "looked at on day 0, 90" in text
    fresh = page.get("/light").text
    assert "No sheet hangs" in fresh
    first = page.get("/api/light/due").json()["first"]
    assert first
    assert all(f'value="{one["paint"]}"' in fresh for one in first)


def test_each_box_is_shown_half_covered_and_half_in_light_with_its_change(window):
    text = window.get("/light/1").text
    pictures = re.findall(r'<img src="(/crops/[^"]+)"', text)
    assert len(pictures) == 3
    assert window.get(pictures[0]).headers["content-type"] == "image/webp"
    assert "left half kept covered, right half in light" in text
    assert text.count("in my window test, 90 days") == 6
    assert len(re.findall(r'class="doubt"', text)) == 12  # two strokes of three paints, two looks
    assert "just noticeable" in text
    assert "yardstick" in text
    assert "paler" in text
    assert window.get("/light/nowhere").status_code == 422


def test_strokes_that_wait_for_review_are_named_with_the_way_there(window, tmp_path):
    assert "to review before it counts" not in window.get("/light/1").text
    studio = open_studio(tmp_path / "waiting")
    read_on(studio, hung_sheet(studio, tmp_path).shot(tmp_path, 0), 0, review=True)
    studio.close()
    with Page(
        create_app(tmp_path / "waiting", clock=lambda: at(1)), base_url="http://127.0.0.1:8330"
    ) as client:
        text = client.get("/light/1").text
        assert text.count("to review before it counts") == 6
        (way,) = re.findall(r'href="(/charts/[^/"]+/review)"', text)
        assert client.get(way).status_code == 200


def test_the_drawing_is_told_in_words_too(window):
    label = re.search(r'role="img" aria-label="(Change of [^"]+)"', window.get("/light/1").text)
    assert label is not None
    assert re.search(r"full strength, ΔE\*ab \d+\.\d ± \d+\.\d on day 90", label[1])


def test_a_test_is_begun_with_the_paints_ticked_and_named_and_its_sheet_can_be_printed(page):
    answer = page.change(
        "/light/new",
        {
            "name": "Attic",
            "paint": ["p1"],
            "others": "p2, p3",
            "sheet": "A5",
            "facing": "north",
            "latitude": "52",
        },
    )
    assert answer.status_code == 200
    assert "faces north: north of the equator" in answer.text
    document = page.get("/api/light/Attic").json()
    assert [one["paint"] for one in document["paints"]] == ["p1", "p2", "p3"]
    assert page.get(f"/charts/{document['chart']}.pdf").content.startswith(b"%PDF")
    assert f"/light/{document['chart']}" in page.get(f"/charts/{document['chart']}").text
    page.change("/undo")
    assert page.get("/api/light").json() == {"light_tests": []}


@pytest.mark.parametrize(
    "wrong",
    [
        {"name": "X"},
        {"name": " ", "paint": "p1"},
        {"name": "X", "paint": "p1", "latitude": "north"},
        {"name": "X", "paint": "p1", "started": "yesterday"},
        {"name": "X", "paint": "p1", "facing": "up"},
        {"name": "X", "paint": "p1", "lux": "500"},
        {"name": "X", "paint": "p1", "looks": "soon"},
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_begun(page, wrong):
    assert page.change("/light/new", wrong).status_code == 422
    assert page.get("/api/light").json() == {"light_tests": []}


def test_it_is_put_right_and_ended(window):
    kept = {"started": "2026-02-27", "place": "hall", "looks": "30, 60", "lux": "2000", "hours": "8"}
    assert "Dose" in window.change("/light/1/correct", kept).text
    document = window.get("/api/light/1").json()
    assert (document["place"], document["facing"], document["looks"]) == ("hall", "", [30, 60])
    assert document["dose_mlx_h"] == pytest.approx(2000 * 8 * 123 / 1e6)
    assert window.change("/light/1/end", {"ended": "2026-06-01"}).status_code == 200
    assert window.get("/api/light/1").json()["ended"] == "2026-06-01"
    assert "End the test" not in window.get("/light/1").text


def test_the_paint_itself_shows_the_window_test_as_its_proof(window, hung_once):
    paint = hung_once[1].chart.pages[0].boxes[0].paint
    text = window.get(f"/paints/{paint}").text
    assert re.search(r'class="v-proof">(fades|changed): [^<]+window test, 90 days', text)
    assert 'href="/light/1"' in text
    assert len(re.findall(r'class="doubt"', text)) == 4  # its own two strokes, two looks
    other = hung_once[1].chart.pages[0].boxes[1].paint
    assert "no sure change so far" in window.get(f"/paints/{other}").text


def test_a_look_that_is_taken_back_is_off_the_page_of_the_paint_at_once(window, hung_once):
    paint = hung_once[1].chart.pages[0].boxes[0].paint
    assert "window test" in window.get(f"/paints/{paint}").text
    window.change("/undo")
    assert "in my window test, 90 days" not in window.get(f"/paints/{paint}").text


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_light_test_is_for_everybody_and_fits(hung_once, tmp_path, visit, scheme):  # noqa: F811
    shutil.copytree(hung_once[0], tmp_path / "studio")
    faults = []
    for served in serve(tmp_path / "studio", clock=lambda: at(121)):
        page = visit(served.url, color_scheme=scheme)
        for address in (*ADDRESSES, "/light"):
            page.goto(served.url + address)
            page.wait_for_load_state()
            faults += [(address, one["id"]) for one in Axe().run(page).response["violations"]]
            for size in (NARROW, WIDE):
                page.set_viewport_size(size)
                faults += [] if fits(page) else [(address, size["width"])]
    assert faults == []


@pytest.mark.browser
def test_a_test_is_begun_in_the_browser(served, visit):  # noqa: F811
    page = visit(served.url)
    page.goto(served.url + "/light")
    page.get_by_label("Name", exact=True).fill("Landing")
    page.get_by_label("Other paints").fill("p1")
    page.get_by_label("Window faces").select_option("south")
    page.get_by_role("button", name="Rule the sheet").click()
    page.wait_for_url("**/light/1?did=*")
    assert page.get_by_role("heading", level=1).inner_text() == "Landing"
    assert page.get_by_role("link", name="Print the sheet").is_visible()


if os.environ.get("HALFPAN_PICTURES"):

    def test_pictures_of_a_light_test_for_the_documentation(hung_once, tmp_path, visit):
        from .test_browser import keep_picture

        shutil.copytree(hung_once[0], tmp_path / "studio")
        for served in serve(tmp_path / "studio", clock=lambda: at(121)):
            for size, scheme, more in ((WIDE, "light", ""), (WIDE, "dark", "-dark"), (NARROW, "light", "")):
                page = visit(served.url, size, color_scheme=scheme)
                for name, address in (("light-tests", "/light"), ("light-test", ADDRESSES[0])):
                    page.goto(served.url + address)
                    page.wait_for_load_state("networkidle")
                    keep_picture(page, f"{name}-{size['width']}{more}")
