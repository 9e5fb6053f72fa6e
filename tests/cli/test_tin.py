"""``halfpan tin`` and ``halfpan lists`` as a painter calls them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from halfpan.studio.studio import open_studio


@pytest.fixture
def filled(halfpan, tmp_path, monkeypatch):
    monkeypatch.syspath_prepend(str(Path(__file__).parents[1]))
    from studio.film_studio import chosen, fill

    studio = open_studio(tmp_path / "studio")
    owned = fill(studio, chosen(6))
    studio.close()
    assert halfpan("tin", "new", "Small", "4h", "2h-f").code == 0
    return halfpan, owned


def document(halfpan, *words):
    ran = halfpan(*words, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def test_a_tin_is_filled_seated_and_followed_by_its_card(filled, tmp_path):
    halfpan, owned = filled
    ids = [one.id for one in list(owned.values())[:6]]
    document(halfpan, "tin", "fill", "Small", *ids)
    seated = document(halfpan, "tin", "seat", "Small", "--clean-yellows")
    assert seated["step"] > 0
    assert seated["proved"]
    out = tmp_path / "lid.pdf"
    card = document(halfpan, "tin", "card", "Small", "--out", str(out))
    assert card["kind"] == "lid card"
    assert out.exists()
    assert document(halfpan, "tin", "stale")["stale"] == []
    moved = halfpan("tin", "move", "Small", "A1", "A2")
    assert f"lid card {card['chart']}" in moved.err
    (stale,) = document(halfpan, "tin", "stale", "Small")["stale"]
    assert {one["seat"] for one in stale["moved"]} == {"A1", "A2"}


def test_choosing_answers_in_json_with_lost_colours(filled):
    halfpan, _ = filled
    answer = document(halfpan, "tin", "choose", "4", "--sets", "2")
    first = answer["sets"][0]
    assert len(first["paints"]) == 4
    assert 0 < first["share_of_owned"] <= 1
    assert all(one["screen"].startswith("#") and one["words"] for one in first["lost"])
    assert first["add_next"]["cells"] > 0


def test_a_proof_says_what_is_proved_and_without_time_what_is_not(filled):
    halfpan, _ = filled
    answer = document(halfpan, "tin", "choose", "3", "--prove", "600")
    assert answer["no_set_can_pass"] == answer["sets"][0]["cells"]
    told = "No set reaches more than the first: proved."
    assert told in halfpan("tin", "choose", "3", "--prove", "600").out
    without_time = halfpan("tin", "choose", "3", "--prove", "0").out
    assert told not in without_time
    assert "No set can reach more than" in without_time


def test_a_chosen_set_goes_into_a_tin(filled):
    halfpan, _ = filled
    chosen_ids = [
        one["paint"]
        for one in document(halfpan, "tin", "choose", "4", "--into", "Small")["sets"][0]["paints"]
    ]
    seats = document(halfpan, "tin", "show", "Small")["seats"]
    assert sorted(one["paint"] for one in seats if one["paint"]) == sorted(chosen_ids)


def test_what_cannot_be_chosen_is_one_sentence_on_stderr(filled):
    halfpan, _ = filled
    ran = halfpan("tin", "choose", "4", "--lasting", "--by", "proof")
    assert ran.code == 1
    assert "Only 0 paints meet the conditions" in ran.err
    assert ran.out == ""


def test_gaps_greys_split_and_pictures_answer(filled, tmp_path):
    halfpan, owned = filled
    document(halfpan, "tin", "fill", "Small", *[one.id for one in list(owned.values())[:4]])
    assert document(halfpan, "tin", "gaps", "Small")["wider"] == "everything owned"
    assert document(halfpan, "tin", "greys", "--count", "3")["greys"][0]["within_delta_e00"] > 0
    sided = document(halfpan, "tin", "split", "--end", "120")
    assert sided["rule"]["end"] == 120
    assert len(sided["sided"]) == len(owned)
    for verb in ("map", "ring", "reach"):
        out = tmp_path / f"{verb}.svg"
        assert halfpan("tin", verb, "Small", "--out", str(out)).code == 0
        assert Path(out).read_text().startswith("<svg")


def test_lists_for_a_class_and_for_children(filled):
    halfpan, owned = filled
    code = next(one.codes[0] for one in owned.values() if len(one.codes) == 1)
    made = document(halfpan, "lists", "class", code)
    assert made["basket"]["tubes"][0]["line"] == 0
    assert halfpan("lists", "class", "a nice blue").code == 1
    said = document(halfpan, "lists", "children")
    assert len(said["by_their_labels"]) == len(owned)
    assert "safe" not in halfpan("lists", "children").out.replace("safety data sheet", "")


def test_wished_mixes_are_looked_through(filled):
    halfpan, _ = filled
    assert halfpan("wish", "add", "Marsh", "PB29 PY150").code == 0
    (told,) = document(halfpan, "wish", "mix")["wishes"]
    assert told["reaches"] is None
    assert "not read" in told["why_unknown"]


def test_pictures_and_moves_answer_in_json_too(filled, tmp_path):
    halfpan, owned = filled
    ids = [one.id for one in list(owned.values())[:5]]
    document(halfpan, "tin", "fill", "Small", *ids)
    shown = document(halfpan, "tin", "map", "Small", "--out", str(tmp_path / "map.svg"))
    assert shown["tin"] == "Small"
    assert Path(shown["picture"]).read_text(encoding="utf-8").startswith("<svg")
    ring = document(halfpan, "tin", "ring", "Small", "--out", str(tmp_path / "ring.svg"))
    assert {one["paint"] for one in ring["paints"]} == set(ids)
    assert all(0 <= one["hue"] < 360 for one in ring["paints"])
    reach = document(halfpan, "tin", "reach", "Small", "--out", str(tmp_path / "reach.svg"))
    assert 0 < reach["share"] < 1
    locked = document(halfpan, "tin", "lock", "Small", "A1")
    assert locked["tin"] == "Small"
    emptied = document(halfpan, "tin", "take-out", "Small", ids[0])
    assert ids[0] not in json.dumps(emptied)
