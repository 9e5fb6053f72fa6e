from __future__ import annotations

import json

import pytest

LIST = """maker,range,name,codes,transparency,health
Tidewater,Ebb,Harbour Blue,PB29,transparent,
Tidewater,Ebb,Cobalt Blue Hue,PB28,,
Old Quarry,Earth and Stone,Ultramarine,PB 29,opaque,
Old Quarry,Earth and Stone,Crimson,PR83,,
Old Quarry,Earth and Stone,Cadmium Red,PR108,,Keep out of reach of children
Larkspur Mill,Field,Ivory Black,PBI9,,
Larkspur Mill,Field,Sap Green,,,
"""


@pytest.fixture
def filled(halfpan, tmp_path):
    (tmp_path / "list.csv").write_text(LIST)
    assert halfpan("paints", "add", str(tmp_path / "list.csv")).code == 0
    return halfpan


def document(halfpan, *words):
    ran = halfpan(*words, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def test_check_reports_each_fault_and_changes_nothing(filled):
    before = document(filled, "paints", "list")
    checked = {one["name"]: one for one in document(filled, "paints", "check")["paints"]}
    assert {r["level"] for r in checked["Ultramarine"]["remarks"]} == {"changed"}
    assert checked["Ivory Black"]["remarks"][0]["proposal"] == "PBk9"
    assert any("hue" in r["text"] for r in checked["Cobalt Blue Hue"]["remarks"])
    assert checked["Harbour Blue"]["remarks"] == []
    assert document(filled, "paints", "list") == before


def test_a_corrected_paint_is_not_asked_about_again(filled):
    assert filled("paints", "edit", "Ivory Black", "--codes", "PBk9").code == 0
    checked = {one["name"]: one for one in document(filled, "paints", "check")["paints"]}
    assert checked["Ivory Black"]["remarks"] == []
    assert checked["Ivory Black"]["printed"] == "PBI9"


def test_own_keeps_its_four_answers_apart(filled):
    owned = document(filled, "paints", "own", "PB29")
    assert len(owned["same_codes"]) == 2
    assert document(filled, "paints", "own", "Ultramarin")["name"]
    assert "Nothing here" in filled("paints", "own", "PY3").out


def test_a_wish_says_what_it_is_already_covered_by(filled):
    told = filled("wish", "add", "Deep Sea", "PB29")
    assert "Already covered by: Harbour Blue (p1: same codes); Ultramarine (p3: same codes)." in told.out
    (wish,) = document(filled, "wish", "list")["wishes"]
    assert [(one["name"], one["ways"]) for one in wish["covered_by"]] == [
        ("Harbour Blue", ["same codes"]), ("Ultramarine", ["same codes"]),
    ]  # fmt: skip
    assert "already covered by" in filled("wish", "list").out


def test_duplicates_without_readings_say_that_the_look_is_unknown(filled):
    found = document(filled, "paints", "duplicates")
    assert found["pairs"] == []
    assert [group["kind"] for group in found["groups"]] == ["same codes, look unknown"]
    assert found["repeatability"]["measured"] == 0
    assert "is not measured yet" in filled("paints", "duplicates").err


def test_a_substitute_without_readings_promises_no_look(filled):
    found = document(filled, "paints", "substitute", "Harbour Blue")
    assert [one["distance"] for one in found["found"]] == [None]
    assert "no promise" in filled("paints", "substitute", "Harbour Blue").out


def test_the_order_says_what_it_rests_on(filled):
    rows = document(filled, "paints", "order")["order"]
    assert {row["basis"] for row in rows} <= {"pigment group", "name", "unknown"}
    assert rows[0]["family"] == "reds"


def test_a_new_paint_gets_its_neighbours(filled):
    placed = document(filled, "paints", "place", "Crimson")
    assert placed["place"]["basis"] == "family"
    assert "between" in filled("paints", "place", "Harbour Blue").out


def test_cautions_quote_the_label_and_defer_to_the_data_sheet(filled):
    rows = {one["name"]: one for one in document(filled, "paints", "cautions")["paints"]}
    cadmium = rows["Cadmium Red"]
    assert [caution["witness"] for caution in cadmium["cautions"]] == ["label", "literature"]
    assert cadmium["children"]["answer"] == "the label warns"
    assert rows["Harbour Blue"]["cautions"] == []
    assert "safety data sheet" in filled("paints", "cautions").err
    assert "the label says nothing" in filled("paints", "cautions", "--children").out


def test_witnesses_stand_side_by_side(filled):
    said = document(filled, "paints", "witnesses", "Ultramarine")
    transparency = next(s for s in said["statements"] if s["property"] == "transparency")
    assert transparency["label"]["text"] == "opaque"
    assert "disagree" in transparency["disagreement"]
    assert "disagree" in filled("paints", "witnesses", "Ultramarine").out


def test_ranges_are_counted_and_set_side_by_side(filled):
    seen = document(filled, "paints", "compare-ranges", "Tidewater", "Old Quarry")["ranges"]
    assert [one["glance"]["paints"] for one in seen] == [2, 3]
    refused = filled("paints", "compare-ranges", "Nobody")
    assert (refused.code, refused.out) == (1, "")
    assert "Old Quarry" in refused.err


def test_identify_says_that_nothing_was_read(filled):
    assert document(filled, "paints", "identify", "Sap Green")["guesses"] == []


def test_a_pigment_shows_its_facts_with_their_certainty_and_the_paints_that_contain_it(filled):
    shown = document(filled, "pigments", "show", "pb 29")
    assert len(shown["paints"]) == 2
    assert shown["pigment"]["constitution_certainty"] == "published"
    assert "well known" in filled("pigments", "show", "PB29").out
    assert "unknown" in filled("pigments", "show", "PR192").out
    assert filled("pigments", "show", "blue").code == 1


def test_pigments_of_my_paints_are_listed_with_their_count(filled):
    rows = {one["code"]: one["paints"] for one in document(filled, "pigments", "list", "--owned")["pigments"]}
    assert rows["PB29"] == 2
    assert len(document(filled, "pigments", "list")["pigments"]) >= 243


def test_a_finding_is_kept_dated_and_heard_as_proof(filled):
    added = filled(
        "findings", "add", "Crimson", "staining", "4", "--scale", "0 to 5, 5 stains most",
        "--seen", "2026-10-09",
    )  # fmt: skip
    assert added.code == 0, added.err
    (kept,) = document(filled, "findings", "list", "Crimson")["findings"]
    assert kept["finding"]["seen"] == "2026-10-09"
    said = document(filled, "paints", "witnesses", "Crimson")["statements"]
    assert "by eye" in next(s for s in said if s["property"] == "staining")["proof"]["text"]
    assert filled("paints", "undo").code == 0
    assert document(filled, "findings", "list")["findings"] == []


def test_a_number_without_its_scale_is_refused(filled):
    refused = filled("findings", "add", "Crimson", "staining", "4")
    assert refused.code == 1
    assert "scale" in refused.err
