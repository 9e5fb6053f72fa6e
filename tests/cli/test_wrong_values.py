"""What is typed wrongly is one sentence, exit code 1, and nothing is kept."""

from __future__ import annotations

import pytest

LIST = "maker,range,name,codes\nTidewater,Ebb,Straw,PY150\n,,Harbour Blue,PB29\n"
HUGE = "99999999999999999999"
WRONG = [
    (("papers", "add", " "), "needs a name"),
    (("papers", "add", "Block", "--weight", "-4"), "-4 is no weight of a paper"),
    (("tin", "new", "", "6h"), "needs a name"),
    (("tin", "new", "Small", "6h", "--half", "0x0"), "0 x 0 mm"),
    (("tin", "new", "Small", "6h", "--gap", "-1"), "measure across and down"),
    (("lists", "children", "Nope"), "The tins are: none yet"),
    (("wish", "add", ""), "Say what is wished for"),
    (("stock", "add", "p1", "--size", "-3"), "-3 cannot be the size in ml"),
    (("stock", "add", "p1", "--price", "-1"), "-1 cannot be the price"),
    (("stock", "note", "1"), "Nothing was noted"),
    (("stock", "note", "1", "--weight", "-1"), "-1 cannot be the weight in grams"),
    (("paints", "edit", "p1"), "Nothing was corrected"),
    (("paints", "edit", "p1", "--codes", "ü"), "Write it like PB29"),
    (("paints", "compare-ranges", "nobody"), "There are: Tidewater Ebb."),
    (("paints", "substitute", "p1", "--without", "nonsense"), "the substances are: antimony"),
    (("light-test", "start", "W", "--paints", "p1", "--on", "2999-01-01"), "has not come yet"),
    (("chart", "new", "--spare", "-4"), "boxes are spare"),
    (("chart", "new", "--margin", "-1"), "A margin"),
    (("chart", "new", "--plan", "0x4"), "a plan has a row and a column"),
    (("paints", "add", "-"), "There is no line in the list"),
    (("chart", "new", "--spare", "100000"), "0 to 500 boxes are spare"),
    (("chart", "new", "--margin", "nan"), "A margin is 0 mm or more"),
    (("tin", "new", "Endless", "999999h"), "up to 600 seats"),
    (("tin", "new", "Small", "6h", "--half", "nanx19"), "measure across and down"),
    (("paints", "undo", HUGE), f"Change {HUGE} does not exist"),
    (("readings", "accept", HUGE), f"There is no reading {HUGE}"),
    (("readings", "choose", HUGE), f"There is no reading {HUGE}"),
    (("readings", "set-aside", HUGE, "--reason", "x"), f"There is no reading {HUGE}"),
]


@pytest.mark.parametrize(("words", "said"), WRONG, ids=[" ".join(words) for words, _ in WRONG])
def test_what_cannot_be_is_refused_in_one_sentence(halfpan, words, said):
    assert halfpan("paints", "add", "-", given=LIST).code == 0
    before = halfpan("paints", "changes", "--json").out
    ran = halfpan(*words)
    assert (ran.code, ran.out, ran.err.count("\n")) == (1, "", 1)
    assert ran.err.startswith("halfpan: ")
    assert said in ran.err
    assert halfpan("paints", "changes", "--json").out == before


def test_a_column_that_a_list_has_not_is_named(halfpan):
    ran = halfpan("paints", "add", "-", "--column", "codes=9", given=LIST)
    assert ran.code == 1
    assert "There is no column “9” in the list; it has 4: maker, range, name, codes." in ran.err


def test_a_day_is_asked_for_as_days_are_written(halfpan):
    for words in (("stock", "add", "p1", "--bought"), ("light-test", "start", "W", "--on")):
        ran = halfpan(*words, "31.12.2025")
        assert ran.code == 2
        assert "write it like" in ran.err
        assert "%" not in ran.err


def test_what_is_not_wanted_may_be_a_substance_or_a_code(halfpan):
    given = "maker,range,name,codes\nA,B,Red,PR108\nA,B,Rose,PV19\nA,B,Twin,PR108\nA,B,Other,PV19\n"
    assert halfpan("paints", "add", "-", given=given).code == 0
    assert "Twin" in halfpan("paints", "substitute", "Red").out
    for unwanted in ("cadmium", "PR108", "pr 108"):
        assert "Twin" not in halfpan("paints", "substitute", "Red", "--without", unwanted).out
    assert "Twin" in halfpan("paints", "substitute", "Red", "--without", "PV19").out
