"""No page is left out: each route that answers with a page is looked at, by axe, by day and by night.

Those of a studio in use stand in the lists of the other tests; here are the pages that only come about: a
first visit, a list, work going on or gone wrong, refusals, the door for a phone, and a page that only shows.
"""

from __future__ import annotations

import threading

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from halfpan.web.routes import ROUTERS

from . import test_browser, test_browser_choices, test_browser_studio, test_light
from .conftest import serve
from .test_browser import LIST, NARROW, WIDE, fits, visit  # noqa: F401 (a fixture)

HERE = ("/", "/paints/list/7", "/jobs/7", "/pair")
BY_OTHERS = (
    *test_browser.ADDRESSES, *test_browser_choices.ADDRESSES, *test_browser_studio.ADDRESSES,
    *test_light.ADDRESSES,
    "/charts/FRESH2/table", "/charts/FRESH2/table/1/2",
)  # fmt: skip
CARRIED = {
    "/share/pocket-list.html", "/share/paints.html",
    "/charts/{chart}/share.html", "/charts/{chart}/table.html",
}  # fmt: skip
"""Pages that are saved; test_browser_table opens them from a disk."""
PIECES = {"/mixes/predicted", "/charts/new/preview", "/tins/{tin}/card"}
"""What a script fetches into a page that is looked at with it."""
LOOKS = pytest.mark.parametrize("scheme", ["light", "dark"])


ROUTES = [one for router in ROUTERS for one in router.routes if "GET" in one.methods]


def route_of(address: str) -> str:
    """Return the route that answers to an address."""
    path = address.split("?", maxsplit=1)[0]
    return next(one.path for one in ROUTES if one.path_regex.match(path))


def test_no_page_is_left_out():
    pages = {
        one.path
        for one in ROUTES
        if not one.path.startswith(("/api/", "/static/")) and not one.path.endswith((".webp", ".pdf"))
    }
    looked_at = {route_of(address) for address in (*HERE, *BY_OTHERS)}
    assert pages - CARRIED - PIECES == looked_at
    assert pages > CARRIED | PIECES


def faults_of(page) -> list[str]:
    page.wait_for_load_state()
    found = Axe().run(page).response["violations"]
    told = [f"{page.url} {one['id']} {one['nodes'][0]['html'][:120]}" for one in found]
    for size in (NARROW, WIDE):
        page.set_viewport_size(size)
        told += [] if fits(page) else [f"{page.url} scrolls sideways at {size['width']}"]
    return told


@pytest.mark.browser
@LOOKS
def test_the_first_pages_are_for_everybody(served_empty, visit, scheme):  # noqa: F811
    page = visit(served_empty.url, color_scheme=scheme)
    faults = []
    for address in (
        "/",
        "/pair",
        "/charts",
        "/mixes",
        "/tins",
        "/light",
        "/stock",
        "/pigments",
        "/papers",
        "/history",
    ):
        page.goto(served_empty.url + address)
        faults += faults_of(page)
    page.goto(served_empty.url)
    page.get_by_role("textbox").first.fill(LIST + "\nOld Quarry; Nameless Rose; PV91\n")
    page.get_by_role("button", name="Look at the list").click()
    page.wait_for_url("**/paints/list/*")
    faults += faults_of(page)
    assert faults == []


@pytest.mark.browser
@LOOKS
def test_work_is_for_everybody_while_it_goes_on_and_when_it_fails(served, visit, scheme, tmp_path):  # noqa: F811
    page = visit(served.url, color_scheme=scheme)
    enough = threading.Event()

    def work(job):
        job.step(1, 3, "reading first-six.jpg")
        enough.wait(60)
        return "/charts"

    job = served.app.state.jobs.start("Reading photos", work)
    page.goto(f"{served.url}/jobs/{job.id}")
    expect(page.get_by_role("progressbar")).to_be_visible()
    faults = faults_of(page)
    enough.set()
    page.wait_for_url("**/charts")
    (tmp_path / "holiday.jpg").write_bytes(b"no picture at all")
    page.locator("input[type=file]").first.set_input_files(tmp_path / "holiday.jpg")
    page.get_by_role("button", name="Read", exact=True).first.click()
    expect(page.get_by_role("alert")).to_contain_text("holiday.jpg")
    assert "/jobs/" in page.url
    assert faults + faults_of(page) == []


@pytest.mark.browser
@LOOKS
def test_refusals_are_for_everybody(served, chromium, scheme):
    """Opened without the watch on the console, which tells of every refused answer."""
    context = chromium.new_context(viewport=WIDE, color_scheme=scheme)
    page = context.new_page()
    faults = []
    for address, status in (
        ("/nowhere", 404), ("/paints/p999", 404), ("/charts/ZZZZZZ", 404), ("/mixes/match?colour=sea", 422),
        ("/mixes/log?near=sea", 422), ("/tins/99", 422),
    ):  # fmt: skip
        assert page.goto(served.url + address).status == status
        expect(page.get_by_role("alert")).to_be_visible()
        faults += faults_of(page)
    page.goto(f"{served.url}/history")
    context.clear_cookies()
    with page.expect_navigation() as answer:
        page.get_by_role("button", name="Undo").first.click()
    assert answer.value.status == 403
    expect(page.get_by_role("alert")).to_contain_text("Nothing was changed")
    faults += faults_of(page)
    context.close()
    assert faults == []


@pytest.mark.browser
def test_a_page_that_only_shows_is_for_everybody(painted, visit):  # noqa: F811
    faults = []
    for served in serve(painted.folder, read_only=True):
        page = visit(served.url)
        for address in (
            "/paints?sort=mine", "/paints/p2", "/paints/add", "/charts", "/charts/TEST23",
            "/charts/new?which=all", "/charts/TEST23/review", "/charts/TEST23/table",
            "/mixes", "/tins", "/light", "/stock", "/papers", "/history",
        ):  # fmt: skip
            page.goto(served.url + address)
            faults += faults_of(page)
            assert page.locator("form[method=post]:not([data-choices])").count() == 0, address
            assert page.locator("[formmethod=post]").count() == 0, address
        with page.expect_response("**/choose"):
            page.get_by_role("button", name="mid grey").click()
        page.reload()
        assert page.locator("html").get_attribute("data-surround") == "mid"
    assert faults == []
