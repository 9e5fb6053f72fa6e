"""One paint's page: what was done to it, and taking it back from there."""

from __future__ import annotations

import re


def test_what_was_done_to_a_paint_stands_on_its_page_and_is_taken_back_there(page):
    page.change("/paints/p2/notes", {"notes": "Lovely over ochre.", "tags": "harbour"})
    page.change("/paints/p2/notes", {"notes": "Less so over rose.", "tags": "harbour"})
    page.change("/paints/p3/notes", {"notes": "Of another paint.", "tags": ""})
    told = page.get("/paints/p2").text.split('id="history"')[1]
    assert "notes before: “Lovely over ochre.”" in told
    assert "no notes before" in told
    assert "Of another paint" not in told
    assert "a later step built on it" in told  # the first notes cannot go while the second ones stand
    (latest, *_) = re.findall(r'name="change" value="(\d+)"', told)
    back = page.change("/undo", {"change": latest, "back": "/paints/p2"})
    assert back.url.path == "/paints/p2"
    assert page.get("/api/paints/p2").json()["paint"]["notes"] == "Lovely over ochre."


def test_taking_back_how_a_paint_came_leads_to_the_wall(page):
    told = page.get("/paints/p2").text.split('id="history"')[1]
    assert re.search(r"Added 8 paints from a list.*?name=\"back\" value=\"/paints\"", told, re.DOTALL)


def test_a_page_for_reading_only_offers_no_undo(painted):
    from .conftest import page_over

    with page_over(painted.folder, read_only=True) as closed:
        told = closed.get("/paints/p2").text.split('id="history"')[1]
        assert "Ruled chart TEST23" in told
        assert 'action="/undo"' not in told


def test_a_wish_tells_on_its_page_what_covers_it_already(page):
    codes = page.get("/api/paints/p2").json()["paint"]["codes"]
    page.change("/wishes/new", {"name": "Hoped For", "codes": " ".join(codes), "maker": "Tidewater"})
    (wish,) = page.get("/api/wishes").json()["wishes"]
    told = page.get(f"/paints/{wish['paint']['id']}").text.split('id="covered"')[1].split("</section>")[0]
    assert "the same pigments" in told
    assert 'href="/paints/p2"' in told
    assert "covered" not in page.get("/paints/p2").text
