from __future__ import annotations

import json
from pathlib import Path

LIST = """maker,range,name,codes
Tidewater,Estuary,Harbour Blue,PB29
Tidewater,Estuary,Rose,PV19
Old Quarry,,Rose,PR122
"""


def test_a_list_goes_in_and_comes_out_as_one_document(halfpan, tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text(LIST)
    added = halfpan("paints", "add", str(tmp_path / "list.csv"), "--json")
    assert added.code == 0
    assert [line["outcome"] for line in json.loads(added.out)["lines"]] == ["new"] * 3
    listed = json.loads(halfpan("paints", "list", "--json").out)
    assert [(p["id"], p["name"], p["codes"]) for p in listed["paints"]] == [
        ("p1", "Harbour Blue", ["PB29"]),
        ("p2", "Rose", ["PV19"]),
        ("p3", "Rose", ["PR122"]),
    ]


def test_a_list_can_come_from_standard_input(halfpan) -> None:
    assert halfpan("paints", "add", "-", given=LIST).code == 0
    assert "Harbour Blue" in halfpan("paints", "list").out


def test_an_ambiguous_name_is_refused_with_one_sentence_and_exit_code_1(halfpan) -> None:
    halfpan("paints", "add", "-", given=LIST)
    refused = halfpan("paints", "show", "Rose", "--json")
    assert (refused.code, refused.out) == (1, "")
    assert refused.err.startswith("halfpan: “Rose” is the name of 2 paints: p2")
    assert refused.err.count("\n") == 1


def test_wrong_usage_is_exit_code_2(halfpan) -> None:
    assert halfpan("paints", "add").code == 2
    assert halfpan("paints", "paint").code == 2
    assert halfpan("pints").code == 2


def test_corrections_and_removals_can_be_undone(halfpan) -> None:
    halfpan("paints", "add", "-", given=LIST)
    halfpan("paints", "edit", "p1", "--name", "Harbour", "--codes", "PB 29 PBk9", "--maker", "Old Quarry")
    shown = json.loads(halfpan("paints", "show", "p1", "--json").out)["paint"]
    assert (shown["name"], shown["codes"], shown["maker"]) == ("Harbour", ["PB29", "PBk9"], "Old Quarry")
    assert shown["label"]["name"] == "Harbour Blue"
    halfpan("paints", "remove", "p1")
    assert len(json.loads(halfpan("paints", "list", "--json").out)["paints"]) == 2
    assert "removed Harbour" in halfpan("paints", "undo").out
    assert "corrected Harbour Blue" in halfpan("paints", "undo").out
    shown = json.loads(halfpan("paints", "show", "p1", "--json").out)["paint"]
    assert (shown["name"], shown["codes"], shown["maker"]) == ("Harbour Blue", ["PB29"], "Tidewater")
    changes = json.loads(halfpan("paints", "changes", "--json").out)["changes"]
    assert len(changes) == 5


def test_a_doubtful_code_is_not_taken_as_a_correction(halfpan) -> None:
    halfpan("paints", "add", "-", given=LIST)
    refused = halfpan("paints", "edit", "p1", "--codes", "PBI7")
    assert refused.code == 1
    assert "PBk7" in refused.err
