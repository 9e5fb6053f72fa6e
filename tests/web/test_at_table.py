"""At the table and pages to carry, without a browser."""

from __future__ import annotations

import re

import pytest

from halfpan.studio.paint_boxes import lay_out
from halfpan.studio.rule_chart import ChartWish, rule_chart
from halfpan.studio.studio import open_studio

from .conftest import NOW, Page, Painted, page_over


@pytest.fixture
def fresh(painted: Painted) -> str:
    """Rule a second chart that nobody has painted yet."""
    studio = open_studio(painted.folder)
    wish = ChartWish(paints="p1,p2,p3", order="given", title="Evening")
    rule_chart(studio, wish, painted.folder / "charts" / "FRESH2.pdf", now=NOW, new_id=lambda: "FRESH2")
    studio.close()
    return "FRESH2"


def state(painted: Painted, chart: str) -> list[tuple[bool, str]]:
    studio = open_studio(painted.folder)
    steps = lay_out(studio, chart).steps
    studio.close()
    return [(step.painted, step.note) for step in steps]


def test_ticking_goes_on_to_the_next_open_box_and_leaving_loses_nothing(
    page: Page, painted: Painted, fresh: str
) -> None:
    first = page.get(f"/charts/{fresh}/table")
    assert "Next to paint · page 1, box 1" in first.text
    form = re.search(r'action="(/charts/FRESH2/table/[^"]+)"', first.text)
    assert form is not None
    answer = page.change(form[1], {"do": "tick", "note": "slow"}, follow_redirects=False)
    assert answer.headers["location"] == f"/charts/{fresh}/table/1/2"
    page.change(f"/charts/{fresh}/table/1/3", {"do": "tick", "note": ""})
    assert "Next to paint · page 1, box 2" in page.get(f"/charts/{fresh}/table").text
    last = page.change(f"/charts/{fresh}/table/1/2", {"do": "tick", "note": ""})
    assert "Every box is painted." in last.text
    page.change(f"/charts/{fresh}/table/1/2", {"do": "untick", "note": "smeared"})
    assert state(painted, fresh) == [(True, "slow"), (False, "smeared"), (True, "")]


def test_every_box_says_what_to_copy_and_what_to_know_first(page: Page, fresh: str) -> None:
    for box in (1, 2, 3):
        shown = page.get(f"/charts/{fresh}/table/1/{box}").text
        assert "Write below the box" in shown
        assert "Before the brush goes in" in shown
        assert "safety data sheet" in shown


def test_every_kind_of_sheet_can_be_painted_at_the_table(page: Page, painted: Painted) -> None:
    studio = open_studio(painted.folder)
    for kind, more in (("tests", {"paints": "p1"}), ("mixes", {"mixes": ("2 p1 + p2",)})):
        rule_chart(studio, ChartWish(kind=kind, **more), painted.folder / f"{kind}.pdf", now=NOW,
                   new_id=lambda kind=kind: kind.upper())  # fmt: skip
    studio.close()
    assert "wet the right half" in page.get("/charts/TESTS/table/1/1").text
    assert "half, a quarter and an eighth" in page.get("/charts/TESTS/table/1/3").text
    assert "Measure the parts" in page.get("/charts/MIXES/table").text


def test_notes_of_a_phone_are_taken_back(page: Page, painted: Painted, fresh: str) -> None:
    notes = f"halfpan boxes {fresh}\n1/1\tpainted\tgrainy\n1/2\t-\n"
    answer = page.change(f"/charts/{fresh}/table", {"notes": notes})
    assert "Took over notes on 1 box of chart FRESH2" in answer.text
    assert state(painted, fresh)[0] == (True, "grainy")
    assert page.change(f"/charts/{fresh}/table", {"notes": "a shopping list"}).status_code == 422


def test_boxes_that_are_not_there_are_refused_and_a_read_only_studio_offers_no_tick(
    painted: Painted, page: Page, fresh: str
) -> None:
    assert page.get(f"/charts/{fresh}/table/1/99").status_code == 422
    assert page.get("/charts/ZZZ/table").status_code == 404
    with page_over(painted.folder, read_only=True) as closed:
        shown = closed.get(f"/charts/{fresh}/table")
        assert "nothing can be ticked here" in shown.text
        assert 'name="do"' not in shown.text
        assert closed.post(f"/charts/{fresh}/table/1/1", data={"do": "tick"}).status_code == 403


@pytest.mark.parametrize(
    ("url", "name"),
    [
        ("/share/pocket-list.html", "pocket-list.html"),
        ("/share/paints.html", "paints.html"),
        ("/charts/test23/share.html", "chart-TEST23.html"),
        ("/charts/test23/table.html", "at-the-table-TEST23.html"),
    ],
)
def test_pages_to_carry_are_saved_under_their_name_with_the_painted_boxes_inside(
    page: Page, url: str, name: str
) -> None:
    answer = page.get(url)
    assert answer.headers["content-disposition"] == f'attachment; filename="{name}"'
    if "table" not in name:
        assert answer.text.count("data:image/webp;base64,") == 6  # six of the eight paints are painted
    assert page.get("/charts/ZZZ/share.html").status_code == 404


def test_the_way_there_stands_on_the_pages(page: Page) -> None:
    assert "/charts/TEST23/table" in page.get("/charts/TEST23").text
    assert "/share/pocket-list.html" in page.get("/paints").text
