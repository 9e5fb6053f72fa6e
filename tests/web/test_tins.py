"""Tins on the page: laid out, filled, moved, locked, seated, and said in words."""

from __future__ import annotations

import re

import pytest


@pytest.fixture
def tin(page):
    """A tin of two rows of three with p1 to p4 in its first seats."""
    url = str(page.change("/tins/new", {"name": "Harbour", "rows": "3h 3h"}).url.path)
    for paint in ("p1", "p2", "p3", "p4"):
        page.change(f"{url}/place", {"paint": paint})
    return url


def held(page, url):
    seats = page.get(f"/api{url}").json()["seats"]
    return {one["seat"]: one["paint"] for one in seats if one["paint"]}


def test_a_tin_is_laid_out_row_by_row_and_filled_from_its_first_seat(page, tin):
    assert held(page, tin) == {"A1": "p1", "A2": "p2", "A3": "p3", "B1": "p4"}
    text = page.get(tin).text
    assert len(re.findall(r'data-seat="', text)) == 6
    assert "Seat B2, empty" in text


def test_rows_that_make_no_sense_are_refused_in_a_sentence(page):
    answer = page.change("/tins/new", {"name": "Odd", "rows": "3x"})
    assert answer.status_code == 422
    assert "use f (full)" in answer.text
    assert page.get("/api/tins").json()["tins"] == []


def test_a_pan_that_is_moved_changes_places_and_undo_puts_both_back(page, tin):
    page.change(f"{tin}/move", {"start": "A1", "end": "A3"})
    assert held(page, tin) == {"A1": "p3", "A2": "p2", "A3": "p1", "B1": "p4"}
    page.change("/undo")
    assert held(page, tin)["A1"] == "p1"


def test_a_paint_from_the_table_takes_the_seat_it_is_given(page, tin):
    page.change(f"{tin}/place", {"paint": "p5", "seat": "B3"})
    assert held(page, tin)["B3"] == "p5"
    text = page.get(tin).text
    assert 'data-table-paint="p5"' not in text
    assert 'data-table-paint="p6"' in text


def test_a_paint_does_not_sit_in_two_seats(page, tin):
    answer = page.change(f"{tin}/place", {"paint": "p1", "seat": "B3"})
    assert answer.status_code == 422
    assert "move it instead" in answer.text


def test_a_locked_seat_is_not_overwritten_from_the_table(page, tin):
    page.change(f"{tin}/lock", {"seat": "A2", "locked": "true"})
    assert "locked" in page.get(tin).text
    assert page.change(f"{tin}/place", {"paint": "p6", "seat": "A2"}).status_code == 422
    assert held(page, tin)["A2"] == "p2"


def test_locked_pans_stay_when_the_tin_is_seated_and_the_page_says_what_was_won(page, tin):
    page.change(f"{tin}/lock", {"seat": "A1", "locked": "true"})
    answer = page.change(f"{tin}/seat")
    assert "Neighbours stood ΔE" in answer.text
    assert held(page, tin)["A1"] == "p1"
    assert sorted(held(page, tin).values()) == ["p1", "p2", "p3", "p4"]


def test_a_pan_taken_out_lies_on_the_table(page, tin):
    page.change(f"{tin}/out", {"paint": "p2"})
    assert "A2" not in held(page, tin)
    assert 'data-table-paint="p2"' in page.get(tin).text


def test_the_lid_card_is_a_pdf_and_a_chart_of_the_studio(page, tin):
    answer = page.change(f"{tin}/card", {"width": "118", "height": "96"})
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert any(one["kind"] != "swatch" for one in page.get("/api/charts").json()["charts"])


def test_a_lid_of_no_size_is_refused(page, tin):
    for width in ("nan", "inf", "-3"):
        assert page.change(f"{tin}/card", {"width": width}).status_code == 422


def test_a_script_that_moves_a_pan_is_answered_in_json(page, tin):
    answer = page.change(f"{tin}/move", {"start": "B3", "end": "A1"}, headers={"accept": "application/json"})
    assert answer.status_code == 422
    assert "is empty" in answer.json()["refused"]


def test_a_tin_taken_apart_can_be_brought_back(page, tin):
    page.change(f"{tin}/remove")
    assert page.get("/api/tins").json()["tins"] == []
    page.change("/undo")
    assert len(held(page, tin)) == 4


def test_the_lid_card_is_drawn_on_the_page_as_it_will_be_printed(page, tin):
    seen = page.get(tin).text.split("data-lid>")[1].split("</svg>")[0]
    assert 'width="118mm"' in seen
    assert 'viewBox="14 29 118 96"' in seen
    for paint in ("p1", "p4"):
        assert page.get(f"/api/paints/{paint}").json()["paint"]["name"].split()[0] in seen
    other = page.get(f"{tin}/card", params={"width": "90", "height": "60"}).text
    assert 'width="90mm"' in other
    assert 'role="alert"' in page.get(f"{tin}/card", params={"width": "22", "height": "20"}).text
    page.change(f"{tin}/out", {"paint": "p1"})
    name = page.get("/api/paints/p1").json()["paint"]["name"]
    assert name not in page.get(tin).text.split("data-lid>")[1].split("</svg>")[0]


def test_a_lid_card_shows_the_painted_boxes_where_they_are_wished_for(page, tin, painted):
    review = page.get(f"/charts/{painted.chart}/review").text
    numbers = re.search(r'name="readings" value="([\d ]+)"', review)[1]
    page.change(f"/charts/{painted.chart}/accept", {"readings": numbers})
    assert "<image" not in page.get(f"{tin}/card").text
    assert page.get(f"{tin}/card", params={"crops": "true"}).text.count("<image") >= 3
    answer = page.change(f"{tin}/card", {"crops": "true"})
    assert answer.headers["content-type"] == "application/pdf"
    assert b"/Image" in answer.content


def test_a_tin_keeps_the_painters_word_for_its_side(page, tin):
    assert "no side named" in page.get(tin).text
    page.change(f"{tin}/side", {"name": " warm "})
    assert page.get(f"/api{tin}").json()["side"] == "warm"
    assert '<span class="it">warm</span>' in page.get(tin).text
    assert "warm" in page.get("/tins").text
    assert len(held(page, tin)) == 4
    page.change("/undo")
    assert page.get(f"/api{tin}").json()["side"] == ""
