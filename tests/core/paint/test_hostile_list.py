"""A list of labels with every fault that hand-typed lists show, invented for Halfpan, with its answer key.

``fault`` is empty for good lines. ``read_as`` are the codes that must be understood (spelling only),
``proposal`` the one that must stand among the proposals.
"""

import csv
from pathlib import Path

import pytest

from halfpan.core.paint.checking import check_label
from halfpan.core.paint.codes import is_canonical

with (Path(__file__).parent / "hostile_list.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
GOOD = [row for row in ROWS if not row["fault"]]
FAULTY = [row for row in ROWS if row["fault"]]


def test_the_list_is_long_and_holds_every_kind_of_fault():
    assert len(ROWS) >= 300
    assert len({row["fault"] for row in FAULTY}) >= 18


def test_no_good_line_is_refused_or_asked_about():
    for row in GOOD:
        checked = check_label(row["name"], row["codes"])
        assert not checked.asks, (row["name"], row["codes"], checked.remarks)
        assert all(code.canonical == code.as_written for code in checked.read), row


@pytest.mark.parametrize("fault", sorted({row["fault"] for row in FAULTY}))
def test_every_fault_is_reported(fault):
    missed = [
        (row["name"], row["codes"])
        for row in FAULTY
        if row["fault"] == fault and not check_label(row["name"], row["codes"]).remarks
    ]
    assert missed == []


def test_every_proposal_of_the_key_is_made():
    missed = [
        (row["name"], row["codes"], row["proposal"])
        for row in FAULTY
        if row["proposal"]
        and row["proposal"] not in {r.proposal for r in check_label(row["name"], row["codes"]).remarks}
    ]
    assert missed == []


def test_a_clear_spelling_is_read_as_the_key_says():
    for row in FAULTY:
        if row["read_as"]:
            assert " ".join(check_label(row["name"], row["codes"]).codes) == row["read_as"], row


def test_nothing_is_changed_in_silence():
    for row in ROWS:
        checked = check_label(row["name"], row["codes"])
        for code in checked.read:
            assert code.as_written in row["codes"]
            if code.canonical != code.as_written:
                assert any(remark.about == code.as_written for remark in checked.remarks), row
        assert all(is_canonical(code) for code in checked.codes)
