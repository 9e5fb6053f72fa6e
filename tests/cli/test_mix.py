"""The commands about mixes: documents as promised, one sentence when something cannot be done."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from halfpan.studio.studio import open_studio

CONTRACT = Path(__file__).parents[1] / "published" / "contract"


@pytest.fixture
def mixed(halfpan, tmp_path: Path):
    from studio.mixed_studio import mixed_studio

    studio = open_studio(tmp_path / "studio")
    mixed_studio(studio)
    studio.close()
    return halfpan


def promised(document: object, name: str) -> None:
    jsonschema.validate(document, json.loads((CONTRACT / f"{name}.schema.json").read_text()))


def test_a_table_of_mixes_is_answered_in_one_document(mixed, tmp_path: Path) -> None:
    table = tmp_path / "asked.csv"
    table.write_text("paint_a,amount_a,paint_b,amount_b\nRose,2,Straw,3\nHarbour Blue,1,Rose,1\n")
    ran = mixed("mix", "predict", "--table", str(table), "--json")
    document = json.loads(ran.out)
    promised(document, "predictions")
    assert ran.code == 0
    assert len(document["predictions"]) == 2


def test_a_plan_is_answered_in_one_document(mixed) -> None:
    document = json.loads(mixed("mix", "plan", "--boxes", "3", "--json").out)
    promised(document, "plan")
    assert len(document["boxes"]) == 3
    assert {box["paint_a"] for box in document["boxes"]} <= {"Harbour Blue", "Rose", "Straw"}


def test_learning_says_what_it_learnt_from(mixed) -> None:
    document = json.loads(mixed("mix", "learn", "--json").out)
    assert (document["swatches"], document["mixes"]) == (9, 9)
    assert document["without_readings"] == ["Moss"]
    assert "Learnt 3 paints from 9 swatches and 9 mixes." in mixed("mix", "learn").out


def test_a_mix_in_words_is_shown_with_its_radius(mixed) -> None:
    ran = mixed("mix", "predict", "3 Rose + 1 Straw", "--ladder")
    assert ran.code == 0
    assert ran.out.count("3 Rose + 1 Straw") == 5
    assert "within ΔE00" in ran.out


def test_a_match_shows_proof_and_predictions(mixed) -> None:
    document = json.loads(mixed("mix", "match", "50,10,10", "--paints", "2", "--json").out)
    assert document["painted"]
    assert all(m["parts"] and m["within_delta_e00"] > 0 for m in document["matches"])
    assert mixed("mix", "match", "#a07060").code == 0


def test_a_glaze_and_the_reach_of_a_pair_are_shown(mixed) -> None:
    glaze = json.loads(mixed("glaze", "predict", "Rose over Straw", "--json").out)
    promised(glaze, "predictions")
    assert glaze["predictions"][0]["flags"] == ["glaze: less proven"]
    assert mixed("mix", "reach", "Rose", "Straw").code == 0
    reach = json.loads(mixed("mix", "reach", "Rose", "Straw", "--json").out)
    assert len(reach["lab"]) == len(reach["strengths"])


def test_what_cannot_be_done_is_one_sentence(mixed, halfpan) -> None:
    ran = mixed("mix", "predict", "2 Umber + 1 Rose", "--json")
    assert (ran.code, ran.out) == (1, "")
    assert "Umber" in ran.err
    assert mixed("mix", "predict").code == 2
    assert mixed("mix", "identify", "Moss").code == 1
    assert halfpan("mix", "match", "no colour").code == 1


def test_the_log_is_kept_and_found_by_colour(mixed) -> None:
    noted = mixed("mix", "log", "add", "2 Rose + 1 Moss", "--colour", "#8a5a4c", "--name", "brick", "--json")
    assert json.loads(noted.out) == {"mix": 1}
    found = json.loads(mixed("mix", "log", "list", "--near", "#8a5a4c", "--json").out)["mixes"]
    assert [(one["name"], one["delta_e00"]) for one in found] == [("brick", 0.0)]
    assert "2 Rose + 1 Moss" in mixed("mix", "log", "list").out


def test_a_plan_can_be_printed(mixed, tmp_path: Path) -> None:
    ran = mixed("mix", "plan", "--boxes", "3", "--out", str(tmp_path / "mixes.pdf"), "--json")
    assert len(json.loads(ran.out)["boxes"]) == 3
    assert (tmp_path / "mixes.pdf").read_bytes().startswith(b"%PDF")
    promised(json.loads((tmp_path / "mixes.json").read_text()), "chart")
