"""``halfpan light-test``: from the sheet to what changed, as a painter types it."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest

from halfpan.studio.studio import open_studio
from studio.light_studio import STARTED, hung_sheet

LIST = "maker,range,name,codes\nOld Quarry,Field,Alizarin Crimson,PR83\nOld Quarry,Field,Burnt Umber,PBr7\n"


def day(days):
    return (STARTED + timedelta(days=days)).isoformat()


@pytest.fixture
def owned(halfpan):
    assert halfpan("paints", "add", "-", given=LIST).code == 0
    return halfpan


def test_a_test_is_started_with_its_sheet(owned, tmp_path):
    pdf = tmp_path / "window.pdf"
    today = datetime.now(UTC).date()
    ran = owned(
        "light-test", "start", "North window", "--paints", "Alizarin Crimson", "--sheet", "A5",
        "--out", str(pdf), "--facing", "north", "--latitude", "52", "--json",
        "--on", (today - timedelta(days=8)).isoformat(),
    )  # fmt: skip
    assert ran.code == 0, ran.err
    document = json.loads(ran.out)
    assert pdf.read_bytes().startswith(b"%PDF")
    assert json.loads(pdf.with_suffix(".json").read_text("utf-8"))["kind"] == "light"
    assert [paint["name"] for paint in document["paints"]] == ["Alizarin Crimson"]
    assert (document["days"], document["due"], document["dose_mlx_h"]) == (8, 7, None)
    assert "faces north" in document["remark"]
    told = owned("light-test", "due")
    assert "North window: 8 days" in told.out
    assert "faces north" in told.err
    assert "now, day 7" in owned("light-test", "list").out


def test_doubtful_and_unknown_paints_are_to_be_tested_first(owned):
    document = json.loads(owned("light-test", "due", "--json").out)
    assert document["look"] == []
    assert [(one["name"], one["doubtful"]) for one in document["first"]] == [
        ("Alizarin Crimson", ["literature"])
    ]
    assert "test”, not “bad" in owned("light-test", "due").out


@pytest.mark.parametrize(
    "words",
    [
        ("start", "W", "--facing", "up"),
        ("start", "W", "--looks", "soon"),
        ("start", "W", "--lux", "500"),
        ("start", " "),
        ("show", "nowhere"),
        ("end", "nowhere"),
        ("wool", "nowhere", "Burnt Umber", "3"),
    ],
)
def test_a_refusal_is_one_sentence_and_keeps_nothing(owned, tmp_path, monkeypatch, words):
    monkeypatch.chdir(tmp_path)
    ran = owned("light-test", *words)
    assert (ran.code, ran.out) == (1, "")
    assert len(ran.err.strip().splitlines()) == 1
    assert not list(tmp_path.glob("*.pdf"))
    assert json.loads(owned("light-test", "list", "--json").out) == {"light_tests": []}


def test_photos_are_read_shown_corrected_and_the_test_ended(halfpan, tmp_path, monkeypatch):
    monkeypatch.setenv("COLUMNS", "300")
    studio = open_studio(tmp_path / "studio")
    sheet = hung_sheet(studio, tmp_path)
    studio.close()
    for days in (0, 90):
        ran = halfpan("light-test", "read", str(sheet.shot(tmp_path, days)), "--on", day(days), "--json")
        assert ran.code == 0, ran.err
    strip = json.loads(ran.out)["strips"][0]
    assert [look["days"] for look in strip["looks"]] == [0, 90]
    assert strip["level"] >= 0.5
    shown = halfpan("light-test", "show", "South window").out
    assert "Dose: unknown. Paper: not noted." in shown
    assert "My window test" in shown
    assert "paler" in shown
    assert halfpan("light-test", "wool", "1", sheet.chart.pages[0].boxes[0].paint, "2").code == 0
    assert "high sensitivity" in halfpan("light-test", "show", "1").out
    assert halfpan("light-test", "correct", "1", "--lux", "2000", "--hours", "8").code == 0
    assert halfpan("light-test", "end", "1", "--on", day(100)).code == 0
    document = json.loads(halfpan("light-test", "show", "1", "--json").out)
    assert document["days"] == 100
    assert document["dose_mlx_h"] == pytest.approx(1.6)
    paint = json.loads(halfpan("paints", "witnesses", strip["paint"], "--json").out)
    light = next(one for one in paint["statements"] if one["property"] == "light")
    assert "window test, 90 days" in light["proof"]["text"]
