"""A painter's whole job in Chromium, from an empty studio to a lid card: by mouse, by finger, by keys alone.

Every page on the way is held against what the virtual painter really painted, and must fit its window, show
where the focus is, and leave axe nothing to say in light and in dark.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Callable, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pypdfium2 as pdfium
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Locator, Page, expect

from halfpan.collection import charts
from halfpan.core.chart.sheet import Box, Chart
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import srgb_to_lab
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.demo.film import film_at, mix_films
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.scanner import scan
from halfpan.demo.studio_paints import studio_paints
from halfpan.demo.truth import Truth
from halfpan.files.pdf import page_picture
from halfpan.studio.cut_crops import box_area
from halfpan.studio.studio import open_studio

from .test_browser import NARROW, WIDE, drag_by_finger, fits, visit  # noqa: F401 (a fixture)

pytestmark = pytest.mark.browser

NAMES = (
    "Ultramarine Deep",
    "French Blue",
    "Yellow Ochre",
    "Chromium Oxide Green",
    "Red Ochre",
    "Potter's Pink",
)
PAINTS = [one for name in NAMES for one in studio_paints() if one.paint.name == name]
FILMS = {f"p{number}": one.film for number, one in enumerate(PAINTS, 1)}
LIST = "\n".join(f"{one.paint.maker}; {one.paint.name}; {' '.join(one.paint.codes)}" for one in PAINTS)
ROUNDED = 1.0  # CIEDE2000: the page writes whole L*, a* and b*

STOP = """target => {
  const at = document.activeElement;
  const style = one => getComputedStyle(one);
  const ring = one => one && style(one).outlineStyle !== "none" && parseFloat(style(one).outlineWidth) >= 2;
  const r = at.getBoundingClientRect();
  const size = r.width > 0 && r.height > 0;
  const seen = size && r.bottom > 0 && r.right > 0 && r.top < innerHeight && r.left < innerWidth;
  const shown = at === document.body || (seen && (ring(at) || ring(at.closest("label"))));
  return { here: at === target, shown, what: at.outerHTML.slice(0, 120) };
}"""
CARRY = """([data, name]) => {
  const bytes = Uint8Array.from(atob(data), letter => letter.charCodeAt(0));
  const carrier = new DataTransfer();
  carrier.items.add(new File([bytes], name, { type: "image/jpeg" }));
  return carrier;
}"""
NOTED = """addEventListener("DOMContentLoaded", () => {
  const words = document.querySelector("[data-job-words]");
  const note = () => (sessionStorage.said = (sessionStorage.said ?? "") + words.textContent + "\\n");
  if (words) new MutationObserver(note).observe(words, { childList: true });
});
const tap = () => (sessionStorage.taps = 1 + Number(sessionStorage.taps ?? 0));
addEventListener("click", tap, true);"""
MEAN = """async ([url, x, y, width, height]) => {
  const picture = await createImageBitmap(await (await fetch(url)).blob());
  const canvas = new OffscreenCanvas(picture.width, picture.height);
  const context = canvas.getContext("2d");
  context.drawImage(picture, 0, 0);
  const [w, h] = [picture.width, picture.height];
  const { data } = context.getImageData(x * w, y * h, width * w, height * h);
  const sum = [0, 0, 0];
  for (let i = 0; i < data.length; i += 4) for (let c = 0; c < 3; c++) sum[c] += data[i + c];
  return sum.map(one => (4 * one) / data.length / 255);
}"""


# ---- three ways to hold the job -------------------------------------------------------------------


class Mouse:
    """Points, presses, types where it pointed, and drops a photo on the page."""

    size = WIDE
    context: Mapping[str, object] = MappingProxyType({})

    def __init__(self, page: Page) -> None:
        self.page = page

    def press(self, target: Locator) -> None:
        target.click()

    def follow(self, target: Locator, address: str | re.Pattern[str]) -> None:
        """Press what leads to another page, and wait until it is there."""
        self.press(target)
        self.page.wait_for_url(address, timeout=180_000)

    def write(self, target: Locator, text: str) -> None:
        self.press(target)
        target.fill(text)

    def choose(self, target: Locator, label: str) -> None:
        target.select_option(label=label)

    def give(self, target: Locator, photo: Path) -> None:
        data = base64.b64encode(photo.read_bytes()).decode()
        carrier = self.page.evaluate_handle(CARRY, [data, photo.name])
        self.page.dispatch_event("main", "drop", {"dataTransfer": carrier})
        assert target.evaluate("field => field.files[0].name") == photo.name

    def nudge(self, box: str) -> None:
        x, y = middle(self.page.locator(f'[data-box="{box}"]'))
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + 7, y, steps=4)
        self.page.mouse.up()

    def put(self, paint: str, seat: str) -> None:
        self.press(self.page.get_by_role("button", name=f"Put {paint}"))
        self.press(self.page.locator(f'[data-seat="{seat}"]'))


class Finger(Mouse):
    """Touches; drags a box only once it is in hand, for a finger on the photo scrolls the page."""

    size = NARROW
    context = MappingProxyType({"has_touch": True, "is_mobile": True})

    def press(self, target: Locator) -> None:
        """Tap; where the computer was so busy that the touch became a long press, tap again as people do."""
        for _ in range(3):
            before = self._taps()
            target.tap()
            for _ in range(50):
                if self._taps() > before:
                    return
                self.page.wait_for_timeout(100)
        raise AssertionError("three touches were no tap")

    def _taps(self) -> int:
        """Return how many taps the pages have seen, whichever of them is there by now."""
        while True:
            try:
                return int(self.page.evaluate("sessionStorage.taps ?? 0"))
            except PlaywrightError:  # one page goes, the next comes
                self.page.wait_for_load_state()

    def give(self, target: Locator, photo: Path) -> None:
        with self.page.expect_file_chooser() as asked:
            self.press(target)
        asked.value.set_files(photo)

    def nudge(self, box: str) -> None:
        outline = self.page.locator(f'[data-box="{box}"]')
        outline.scroll_into_view_if_needed()
        self._drag(*middle(outline))
        assert self.page.locator("[name=x_mm]").input_value() == "0"
        outline.scroll_into_view_if_needed()
        self.press(self.page.locator(f'[data-move="{box}"]'))
        self._drag(*middle(outline))

    def _drag(self, x: float, y: float) -> None:
        """Drag 2 px to the right, by way of 30 so that it is no tap."""
        drag_by_finger(self.page, *((x + by, y) for by in (0, 30, 10, 2)))


class Keys(Mouse):
    """Never points: Tab, Enter, Space, arrows and letters. The focus must be seen at every stop."""

    def reach(self, target: Locator, most: int = 150) -> None:
        for _ in range(most):
            self.page.keyboard.press("Tab")
            stop = target.evaluate(STOP)
            assert stop["shown"], f"the focus cannot be seen at {stop['what']}"
            if stop["here"]:
                return
        raise AssertionError(f"{target} is not reached by Tab")

    def press(self, target: Locator) -> None:
        self.reach(target)
        self.page.keyboard.press("Enter")

    def write(self, target: Locator, text: str) -> None:
        self.reach(target)
        self.page.keyboard.press("Control+a")
        self.page.keyboard.insert_text(text)

    def choose(self, target: Locator, label: str) -> None:
        self.reach(target)
        self.page.keyboard.type(label)
        assert target.evaluate("field => field.selectedOptions[0].textContent") == label

    def give(self, target: Locator, photo: Path) -> None:
        self.reach(target)
        with self.page.expect_file_chooser() as asked:
            self.page.keyboard.press("Enter")
        asked.value.set_files(photo)

    def nudge(self, box: str) -> None:
        self.press(self.page.locator(f'[data-box="{box}"]'))
        for _ in range(3):
            self.page.keyboard.press("ArrowRight")

    def put(self, paint: str, seat: str) -> None:
        self.press(self.page.get_by_role("button", name=f"Put {paint}"))
        for _ in range(12):
            held = self.page.evaluate("document.activeElement.dataset.seat")
            if held == seat:
                break
            self.page.keyboard.press("ArrowRight")
        self.page.keyboard.press("Space")


def middle(target: Locator) -> tuple[float, float]:
    place = target.bounding_box()
    assert place is not None
    return place["x"] + place["width"] / 2, place["y"] + place["height"] / 2


# ---- what is true, and what is looked at on every page --------------------------------------------


@dataclass(frozen=True)
class Painted:
    """The chart that was printed, what the virtual painter really put on it, and the scan."""

    chart: Chart
    truth: Truth
    photo: Path

    def box_of(self, paint: str) -> Box:
        return next(box for box in self.chart.pages[0].boxes if box.paint == paint)

    def strong(self, paint: str) -> np.ndarray:
        """Give the true colour of a paint at full strength, as it lies in its box."""
        zone = self.truth.zone(self.box_of(paint).box, "masstone")
        assert zone is not None
        return zone.area_lab


def paint_print(folder: Path, chart_id: str, pdf: bytes) -> Painted:
    """Let the virtual painter paint a printed chart and scan it."""
    studio = open_studio(folder)
    with studio.look() as db:
        chart = charts.find(db, chart_id).chart
    studio.close()
    sheet, truth = paint_sheet(
        chart, chart.pages[0], page_picture(pdf, 1, 150), FILMS,
        rng=np.random.default_rng(3), dpi=150, paper=paper_of(),
    )  # fmt: skip
    photo = folder.parent / "my chart.jpg"
    photo.write_bytes(scan(sheet, rng=np.random.default_rng(4)).file)
    return Painted(chart, truth, photo)


def looked_at(page: Page) -> None:
    """Find nothing wrong with a page for anybody: its width, its names, its contrast by day and by night."""
    page.wait_for_load_state("networkidle")
    assert fits(page), f"{page.url} scrolls sideways"
    found = Axe().run(page).response["violations"]
    page.emulate_media(color_scheme="dark")
    dark = {"runOnly": {"type": "rule", "values": ["color-contrast"]}}
    found += Axe().run(page, options=dark).response["violations"]
    page.emulate_media(color_scheme="light")
    assert [f"{page.url} {one['id']} {one['nodes'][0]['html'][:120]}" for one in found] == []


def number(text: str) -> float:
    return float(text.replace("−", "-"))


def figures(text: str) -> tuple[float, float, float]:
    """Read L*, a*, b* as a page writes them."""
    found = re.search(r"L\*\s+(\S+)\s+a\*\s+(\S+)\s+b\*\s+([−\d.]+)", text)
    assert found, text
    l_star, a_star, b_star = map(number, found.groups())
    return l_star, a_star, b_star


def apart(lab: object, truth: object) -> float:
    return float(delta_e_2000(np.array(lab, dtype=float), np.array(truth, dtype=float)))


def words_of(pdf: Path) -> tuple[int, str]:
    """Give the pages of a PDF and all words on them, in one line."""
    document = pdfium.PdfDocument(pdf.read_bytes())
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    count = len(document)
    document.close()
    return count, " ".join(text.split())


@contextmanager
def fetched(page: Page, where: Path, press: Callable[[], None]):
    with page.expect_download() as got:
        press()
    path = where / got.value.suggested_filename
    got.value.save_as(path)
    yield path


# ---- the job --------------------------------------------------------------------------------------


@pytest.mark.parametrize("way", [Mouse, Finger, Keys], ids=["mouse-1440", "finger-390", "keys"])
def test_the_whole_job_from_an_empty_studio_to_a_lid_card(served_empty, visit, tmp_path, way):  # noqa: F811
    page = visit(served_empty.url, way.size, **way.context)
    hand = way(page)
    page.add_init_script(NOTED)
    page.on("filechooser", lambda _: None)  # asked for late, a key may come before it
    page.goto(served_empty.url)
    looked_at(page)
    add_the_list(page, hand)
    painted = make_a_chart(page, hand, served_empty.folder, tmp_path)
    read_it(page, hand, painted)
    look_it_over(page, hand, painted)
    see_one_paint(page, hand, painted)
    see_its_substitute(page, hand, painted)
    mix_two(page, hand)
    fill_a_tin(page, hand)
    print_the_lid_card(page, hand, tmp_path)


def add_the_list(page: Page, hand: Mouse) -> None:
    hand.write(page.get_by_role("textbox", name="Type or paste your paints"), LIST)
    hand.follow(page.get_by_role("button", name="Look at the list"), "**/paints/list/*")
    lines = page.locator("table tbody tr").all_inner_texts()
    assert len(lines) == len(PAINTS)
    for one, line in zip(PAINTS, lines, strict=True):
        assert {one.paint.name, one.paint.maker, *one.paint.codes, "new"} <= set(re.split(r"[\t\n]+", line))
    looked_at(page)
    hand.follow(page.get_by_role("button", name=f"Add {len(PAINTS)} paints"), "**/paints?did=*")
    expect(page.get_by_role("status").first).to_contain_text(f"Added {len(PAINTS)} paints from a list")
    assert sorted(page.locator(".tile .nm").all_inner_texts()) == sorted(NAMES)
    assert page.locator(".tile img").count() == 0  # nothing is painted, so nothing is shown as if it were
    looked_at(page)


def make_a_chart(page: Page, hand: Mouse, folder: Path, where: Path) -> Painted:
    hand.follow(page.get_by_role("link", name="Charts"), "**/charts")
    looked_at(page)
    hand.follow(page.get_by_role("link", name="New chart"), "**/charts/new")
    hand.choose(page.locator("select[name=sheet]"), "A5")
    expect(page.locator("[data-preview] svg.page")).to_have_attribute(
        "viewBox", re.compile(r"^0 0 148\S* 210$")
    )
    hand.write(page.get_by_label("Title"), "First six")
    expect(page.locator("[data-preview]")).to_contain_text("First six")
    looked_at(page)
    hand.follow(page.get_by_role("button", name="Make this chart"), re.compile(r"/charts/[A-Z0-9]{6}"))
    chart = page.url.split("/charts/")[1].split("?")[0]
    looked_at(page)
    with fetched(
        page, where, lambda: hand.press(page.get_by_role("link", name="Open the sheet to print"))
    ) as pdf:
        count, words = words_of(pdf)
        assert count == 1
        for name in (*NAMES, "First six", chart):
            assert name in words
        return paint_print(folder, chart, pdf.read_bytes())


def read_it(page: Page, hand: Mouse, painted: Painted) -> None:
    hand.give(page.locator("input[type=file]").first, painted.photo)
    hand.follow(page.get_by_role("button", name="Read", exact=True).first, "**/jobs/*")
    expect(page.get_by_role("progressbar")).to_be_visible()
    page.wait_for_url("**/review", timeout=180_000)
    said = set(page.evaluate("sessionStorage.said").splitlines())
    steps = {"0 of 2: reading my chart.jpg", "1 of 2: keeping the readings", "2 of 2: cutting the boxes out"}
    assert said <= steps
    assert said  # which of them depends on how fast this computer is
    looked_at(page)


def look_it_over(page: Page, hand: Mouse, painted: Painted) -> None:
    seen = {}
    for row in page.locator(".doubt, table.list tbody tr").all():
        text = row.inner_text()
        name = next(name for name in NAMES if name in text)
        within = re.search(r"±\s*([\d.]+)", text) or re.search(r"\t([\d.]+)(?:\t|$)", text)
        seen[name] = (figures(text), float(within[1]))
    assert seen.keys() == set(NAMES)
    for paint, name in enumerate(NAMES, 1):
        lab, within = seen[name]
        assert apart(lab, painted.strong(f"p{paint}")) <= within + ROUNDED, name
    nudged = painted.box_of("p3").box
    outline = page.locator(f'[data-box="{nudged}"] .line')
    before = outline.evaluate("one => one.getBBox().x")
    hand.nudge(nudged)
    words = page.locator("[data-nudge-words]").inner_text()
    moved = re.match(rf"Box {nudged} moved by ([\d.]+) mm", words)
    assert moved, words
    hand.follow(page.get_by_role("button", name="Read it again so"), "**/review?did=*")
    expect(page.get_by_role("status").first).to_contain_text(f"box {nudged} moved by {moved[1]}")
    width = page.locator("[data-overlay]").evaluate("one => one.viewBox.baseVal.width")
    by = outline.evaluate("one => one.getBBox().x") - before
    assert by == pytest.approx(float(moved[1]) * width / painted.chart.sheet.width_mm, rel=0.2)
    looked_at(page)
    while page.get_by_role("button", name="Accept").count():
        done = re.search(r"did=(\d+)", page.url)[1]
        hand.follow(page.get_by_role("button", name="Accept").first, re.compile(rf"review\?did=(?!{done}$)"))
    expect(page.locator("main")).to_contain_text("Everything on this page has been looked at")
    assert page.locator(".doubt").count() == 0


def see_one_paint(page: Page, hand: Mouse, painted: Painted) -> None:
    hand.follow(page.get_by_role("link", name="Paints", exact=True).first, "**/paints")
    assert (page.locator(".tile img").count(), page.locator(".tile .doubt").count()) == (len(NAMES), 0)
    looked_at(page)
    hand.follow(page.locator(".tile a", has_text="Ultramarine Deep"), "**/paints/p1")
    expect(page.get_by_role("heading", level=1)).to_have_text("Ultramarine Deep")
    strong = painted.strong("p1")
    within = number(re.search(r"± ([\d.]+)", page.locator(".plate figcaption").inner_text())[1])
    box = painted.box_of("p1")
    area, zone = box_area(box, painted.chart.pages[0].boxes), box.zone("masstone").rect
    share = [(zone.x - area.x) / area.width, (zone.y - area.y) / area.height,
             zone.width / area.width, zone.height / area.height]  # fmt: skip
    crop = page.locator("[data-zoom] img").get_attribute("src")
    assert apart(srgb_to_lab(np.array(page.evaluate(MEAN, [crop, *share]))), strong) <= within
    first = page.locator(".ladder li").first.inner_text()
    told = re.search(r"L\* (\S+)\s+C\* (\S+)\s+h (\S+)°", first)
    assert apart(lch_to_lab(np.array([*map(number, told.groups())])), strong) <= within + ROUNDED
    over_line = page.get_by_role("row", name=re.compile("^Over the black line")).inner_text()
    assert "says nothing" in over_line  # the list said nothing of it
    contrast = number(re.search(r"contrast ratio (\S+) ±", over_line)[1])
    assert contrast == pytest.approx(painted.truth.box(box.box).contrast_ratio, abs=0.1)
    assert "PB29" in page.get_by_role("row", name=re.compile("^In light")).inner_text()
    looked_at(page)


def see_its_substitute(page: Page, hand: Mouse, painted: Painted) -> None:
    section = page.locator("section.sec", has=page.get_by_role("heading", name="What could replace it"))
    nearest = section.locator("article").first
    by = number(re.search(r"ΔE ([\d.]+) apart", nearest.inner_text())[1])
    assert by < 8
    assert by == pytest.approx(apart(painted.strong("p1"), painted.strong("p2")), abs=4)
    hand.follow(nearest.get_by_role("link", name="French Blue", exact=True), "**/paints/p2")
    expect(page.get_by_role("heading", level=1)).to_have_text("French Blue")
    assert "Ultramarine Deep" in page.locator("main").inner_text()


def mix_two(page: Page, hand: Mouse) -> None:
    hand.follow(page.get_by_role("link", name="Mixes", exact=True).first, "**/mixes")
    for row, (name, parts) in enumerate(
        (("French Blue, Larkspur Mill", "2"), ("Red Ochre, Larkspur Mill", "1"))
    ):
        hand.choose(page.locator("select[name=paint]").nth(row), name)
        hand.write(page.locator("[data-parts]").nth(row), parts)
    expect(page.locator("[data-mix-says]")).to_contain_text(
        "2 parts of French Blue and one part of Red Ochre"
    )
    best = figures(page.locator(".band .middle").inner_text())
    true = film_at(mix_films([FILMS["p2"], FILMS["p5"]], [2 / 3, 1 / 3]), 1.0, paper_of().white)
    within = number(
        re.search(r"within ΔE ([\d.]+) at full", page.locator("[data-predicted]").inner_text())[1]
    )
    assert apart(best, reflectance_to_lab(true)) <= within + ROUNDED
    assert page.locator(".band svg").count() == 3
    looked_at(page)


def fill_a_tin(page: Page, hand: Mouse) -> None:
    hand.follow(page.get_by_role("link", name="Tins", exact=True).first, "**/tins")
    looked_at(page)
    hand.write(page.get_by_label("What you call it"), "Harbour")
    hand.write(page.get_by_label("Its rows"), "3h")
    hand.follow(page.get_by_role("button", name="Lay it out"), "**/tins/1?*")
    for paint, seat in (("Ultramarine Deep", "A1"), ("Yellow Ochre", "A2"), ("French Blue", "A3")):
        hand.put(paint, seat)
        expect(page.locator(f'[data-seat="{seat}"]')).to_have_attribute("data-name", paint)
        expect(page.locator("[data-speak]")).to_contain_text(f"{paint} is now in seat {seat}")
    hand.follow(page.get_by_role("button", name="Free all pans"), "**/tins/1?did=*")
    hand.follow(page.get_by_role("button", name="Seat them for me"), "**/tins/1?before=*")
    told = re.search(
        r"ΔE ([\d.]+) apart on average; now ([\d.]+)\.$", page.locator("[data-speak]").inner_text()
    )
    assert number(told[2]) < number(told[1])
    seats = page.locator("[data-seat]")
    names = [seats.nth(k).get_attribute("data-name") for k in range(3)]
    assert names.index("Yellow Ochre") != 1  # the two blues sit together
    looked_at(page)


def print_the_lid_card(page: Page, hand: Mouse, where: Path) -> None:
    with fetched(
        page, where, lambda: hand.press(page.get_by_role("button", name=re.compile("lid card")))
    ) as card:
        count, words = words_of(card)
    assert count == 1
    for name in ("Ultramarine Deep", "Yellow Ochre", "French Blue"):
        assert name in words
