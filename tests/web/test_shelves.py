"""Pigments, papers, stock and wishes on the page."""

from __future__ import annotations

import re


def test_the_pigments_of_my_paints_come_with_how_sure_each_fact_is(page):
    text = page.get("/pigments").text
    mine = {code for one in page.get("/api/paints").json()["paints"] for code in one["codes"]}
    assert {code for code in mine if f'href="/pigments/{code}"' in text} == mine
    assert re.search(r'class="cap sure">(published|well known|fairly sure|weak or varies by make)', text)


def test_the_whole_index_can_be_searched(page):
    text = page.get("/pigments", params={"which": "all", "find": "ultramarine blue"}).text
    assert 'href="/pigments/PB29"' in text
    assert 'href="/pigments/PY3"' not in text
    assert "No pigment answers" in page.get("/pigments?find=zzzz").text


def test_a_pigment_names_its_source_and_the_paints_that_contain_it(page):
    one = next(one for one in page.get("/api/paints").json()["paints"] if one["codes"])
    text = page.get(f"/pigments/{one['codes'][0]}").text
    assert one["name"] in text
    assert "Literature" in text
    assert "safety data sheet" in text
    known = page.get(f"/api/pigments/{one['codes'][0]}").json()
    assert one["id"] in known["paints"]


def test_a_pigment_the_index_does_not_know_is_unknown_and_words_are_refused(page):
    assert "unknown" in page.get("/pigments/PY999").text.lower()
    assert page.get("/pigments/sea").status_code == 422


def test_a_paper_keeps_its_measured_white_and_undo_takes_it_back(page):
    page.change("/papers/new", {"name": "Mill Press", "surface": "rough", "weight": "300"})
    assert "never measured" in page.get("/papers").text
    page.change("/papers/1/white", {"white": "95.1,-0.2,3"})
    (kept,) = page.get("/api/papers").json()["papers"]
    assert kept["lab"] == [95.1, -0.2, 3.0]
    assert kept["weight_gsm"] == 300
    page.change("/undo")
    assert page.get("/api/papers").json()["papers"][0]["lab"] is None


def test_what_is_no_white_and_no_weight_is_refused(page):
    assert page.change("/papers/new", {"name": "X", "weight": "heavy"}).status_code == 422
    assert page.change("/papers/new", {"name": "X", "white": "20,0,0"}).status_code == 422
    assert page.change("/papers/new", {"name": " "}).status_code == 422
    assert page.get("/api/papers").json()["papers"] == []


def test_a_tube_that_runs_low_comes_first_and_says_so(page):
    page.change("/stock/new", {"paint": "p1", "form": "tube", "size": "15", "price": "7.5", "left": "full"})
    page.change("/stock/new", {"paint": "p2", "form": "half pan", "left": "low", "place": "top drawer"})
    items = page.get("/api/stock").json()["items"]
    text = page.get("/stock").text
    first = re.search(r'class="rows shelf">.*?href="/paints/(p\d+)"', text, re.DOTALL)
    assert first is not None
    assert first[1] == "p2"
    assert "1 runs out." in text
    assert [one["cost_per_ml"] for one in items if one["paint"] == "p1" and one["size_ml"] == 15] == [0.5]


def test_an_item_that_is_used_up_leaves_the_drawer_and_can_be_brought_back(page):
    page.change("/stock/new", {"paint": "p3", "left": "half"})
    number = max(one["item"] for one in page.get("/api/stock").json()["items"])
    before = len(page.get("/api/stock").json()["items"])
    page.change(f"/stock/{number}/note", {"left": "", "gone": "true"})
    assert len(page.get("/api/stock").json()["items"]) == before - 1
    page.change("/undo")
    assert len(page.get("/api/stock").json()["items"]) == before


def test_a_price_that_is_none_is_refused(page):
    assert page.change("/stock/new", {"paint": "p3", "price": "dear"}).status_code == 422
    assert page.change("/stock/9999/note", {"left": "half"}).status_code == 422


def test_a_wish_names_what_is_owned_of_its_pigments_and_becomes_a_paint_when_it_comes(page):
    owned = next(one for one in page.get("/api/paints").json()["paints"] if one["codes"])
    codes = " ".join(owned["codes"])
    page.change(
        "/wishes/new", {"name": "Lagoon", "maker": "Tidewater", "codes": codes, "why": "for the estuary"}
    )
    (wish,) = page.get("/api/wishes").json()["wishes"]
    assert owned["id"] in wish["same_codes"]
    assert "for the estuary" in page.get("/stock").text
    page.change("/stock/new", {"paint": wish["paint"]["id"]})
    assert page.get("/api/wishes").json()["wishes"] == []
    assert any(one["name"] == "Lagoon" for one in page.get("/api/paints").json()["paints"])


def test_a_wish_can_be_dropped(page):
    page.change("/wishes/new", {"name": "Lagoon"})
    (wish,) = page.get("/api/wishes").json()["wishes"]
    page.change(f"/wishes/{wish['paint']['id']}/drop")
    assert page.get("/api/wishes").json()["wishes"] == []
