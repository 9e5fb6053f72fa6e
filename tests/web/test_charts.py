"""Charts on the page: how far each is, what brings it up to date, and new ones of every kind."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest

from halfpan.core.chart.trials import TRIALS
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.studio import open_studio

from .conftest import NOW, Painted, page_over


def in_list(text: str, chart: str) -> str:
    """Return what the list says of one chart, without marks."""
    (item,) = [part for part in text.split("<li>") if f'href="/charts/{chart}"' in part]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", item)).strip()


def test_a_chart_tells_how_far_it_is(page, painted: Painted):
    told = in_list(page.get("/charts").text, painted.chart)
    assert "Read, 6 of 6 boxes read" in told
    assert "6 boxes wait to be looked at." in told
    assert "Out of date" not in told


def test_a_printed_chart_becomes_a_painted_one_box_by_box(page):
    made = page.change("/charts/new", {"which": "unpainted", "sheet": "A5", "title": "Two more"})
    chart = made.url.path.rsplit("/", 1)[1]
    assert "Printed, nothing painted yet" in in_list(page.get("/charts").text, chart)
    page.change(f"/charts/{chart}/table/1/1", {"do": "tick", "note": ""})
    assert "Painted, 1 of 2 painted" in in_list(page.get("/charts").text, chart)


@pytest.fixture
def later(painted: Painted):
    """Open the page over a studio where three paints came after a full chart of the first four was ruled."""
    studio = open_studio(painted.folder)
    wish = ChartWish(paints="p1,p2,p3,p4,p5,p6,p7,p8", plan=(4, 2), title="All")
    rule_chart(studio, wish, painted.folder / "full.pdf", now=NOW, new_id=lambda: "FULL11")
    new = "Tidewater, Smalt, PB32\nTidewater, Estuary Blue, PB29\n"
    add_paints(studio, parse_table(new), now=NOW + timedelta(days=3))
    studio.close()
    with page_over(painted.folder) as client:
        yield client


def test_newcomers_are_named_with_the_smallest_repaint_and_a_sheet_for_them(later, painted: Painted):
    text = later.get("/charts").text
    told = in_list(text, "FULL11")
    assert "Out of date. 2 paints came since, and would stand among these: Smalt, Estuary Blue." in told
    assert "Smallest repaint: 2 on a sheet of their own." in told
    sheet = re.search(r'href="(/charts/new\?which=chosen[^"]+)"', text)
    assert sheet is not None
    form = later.get(sheet[1].replace("&amp;", "&")).text
    assert sorted(re.findall(r'name="paint" value="(p\d+)" checked', form)) == ["p10", "p9"]
    one = later.get("/api/charts").json()["charts"]
    (full,) = [each for each in one if each["chart"] == "FULL11"]
    assert full["out_of_date"]["newcomers"] == full["out_of_date"]["own_sheet"] == ["p9", "p10"]


def test_a_newcomer_is_told_the_spare_box_it_would_stand_in(painted: Painted):
    studio = open_studio(painted.folder)
    rule_chart(studio, ChartWish(paints="p1,p2,p3,p4,p5,p6,p7,p8"), painted.folder / "roomy.pdf", now=NOW,
               new_id=lambda: "ROOMY1")  # fmt: skip
    add_paints(studio, parse_table("Tidewater, Smalt, PB32\n"), now=NOW + timedelta(days=3))
    studio.close()
    with page_over(painted.folder) as client:
        told = in_list(client.get("/charts").text, "ROOMY1")
        (box,) = re.findall(r"Smallest repaint: Smalt in box (\d+)\.", told)
        boxes = client.get("/api/charts/ROOMY1").json()["pages"][0]["boxes"]
        assert next(one for one in boxes if one["box"] == box)["label"] == ""


def test_a_corrected_name_is_told_with_the_box_it_is_printed_below(page, painted: Painted):
    name = page.get("/api/paints/p2").json()["paint"]["name"]
    page.change("/paints/p2/correct", {"name": "Sea Rose", "codes": "PV19"})
    for told in (in_list(page.get("/charts").text, painted.chart), page.get(f"/charts/{painted.chart}").text):
        assert f"Box 2 is printed “{name}”; you call it Sea Rose now." in told
        assert "Smallest repaint: none." in told


def test_a_sheet_of_tests_is_drawn_and_ruled_from_the_form(page):
    asked = {"kind": "tests", "which": "all", "trial": ["lifting", "repeats"], "sheet": "A4"}
    drawn = page.get("/charts/new/preview", params=asked).text
    assert "16 boxes" in drawn
    assert "Lifting" in drawn
    assert "Second coat" not in drawn.replace("Second coat again", "")
    made = page.change("/charts/new", asked)
    geometry = page.get(f"/api{made.url.path}").json()
    assert geometry["kind"] == "tests"
    assert {box["label"].rsplit(" · ", 1)[1] for one in geometry["pages"] for box in one["boxes"]} == {
        "lifting",
        "repeats",
    }


def test_no_test_chosen_means_all_of_them(page):
    every = page.get("/charts/new/preview", params={"kind": "tests", "which": "chosen", "paint": "p1"}).text
    assert f"{len(TRIALS)} boxes" in every


def test_a_sheet_of_mixes_is_drawn_and_ruled_from_the_form(page):
    asked = {"kind": "mixes", "mixes": "3 p1 + 1 p2\n\n  p3 + p4 ", "sheet": "A5", "title": "Evening"}
    assert "3 : 1" in page.get("/charts/new/preview", params=asked).text
    made = page.change("/charts/new", asked)
    geometry = page.get(f"/api{made.url.path}").json()
    mixes = [box["mix"] for one in geometry["pages"] for box in one["boxes"] if box.get("mix")]
    assert [[(part["paint"], part["parts"]) for part in mix] for mix in mixes] == [
        [("p1", 3.0), ("p2", 1.0)],
        [("p3", 1.0), ("p4", 1.0)],
    ]


def test_what_a_kind_has_no_use_for_is_left_alone(page):
    asked = {"kind": "mixes", "mixes": "p1 + p2", "spare": "7", "line": "hand", "trial": "lifting"}
    assert "<svg" in page.get("/charts/new/preview", params=asked).text
    asked = {"kind": "swatch", "mixes": "p1 + p2", "which": "all", "spare": "", "scale": ""}
    assert "<svg" in page.get("/charts/new/preview", params=asked).text


def test_a_mix_of_unknown_paints_is_refused_in_the_place_of_the_sheet(page):
    drawn = page.get("/charts/new/preview", params={"kind": "mixes", "mixes": "2 nobody + 1 p2"}).text
    assert 'role="alert"' in drawn
    assert "nobody" in drawn


def test_the_size_of_the_boxes_is_as_asked(page):
    def boxes(scale: str) -> int:
        asked = {"which": "all", "sheet": "A4", "scale": scale}
        drawn = page.get("/charts/new/preview", params=asked).text
        found = re.search(r"(\d+) boxes", drawn)
        assert found is not None
        return drawn.count("<svg")

    assert boxes("1.6") >= boxes("1")
    assert "cannot be ruled" in page.get("/charts/new/preview", params={"which": "all", "scale": "9"}).text
