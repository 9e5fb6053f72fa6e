"""A file that cannot be opened, or written where it was asked for, is one sentence; nothing is kept then."""

from __future__ import annotations

import pytest

LIST = "maker,range,name,codes\nTidewater,Ebb,Straw,PY150\nTidewater,Ebb,Harbour Blue,PB29\n"
WRITES = (
    ("chart", "new", "--out"),
    ("chart", "new", "--kind", "tests", "--out"),
    ("light-test", "start", "South window", "--paints", "all", "--out"),
    ("tin", "chart", "Field tin", "--out"),
    ("tin", "card", "Field tin", "--out"),
    ("tin", "map", "Field tin", "--out"),
    ("paints", "export"),
    ("paints", "report", "--out"),
    ("share", "pocket", "--out"),
    ("back-up",),
)


def test_what_cannot_be_written_is_refused_in_a_sentence_and_nothing_is_kept(halfpan, tmp_path):
    assert halfpan("paints", "add", "-", given=LIST).code == 0
    assert halfpan("tin", "new", "Field tin", "4h").code == 0
    assert halfpan("tin", "fill", "Field tin", "p1", "p2").code == 0
    before = halfpan("paints", "changes", "--json").out
    for command in WRITES:
        place = tmp_path / "absent" / "x.csv"
        ran = halfpan(*command, str(place))
        assert (ran.code, ran.out) == (1, ""), command
        said = ran.err.splitlines()
        assert len(said) == 1, command
        assert said[0].startswith(f"halfpan: {place} cannot be written: there is no such file or folder"), (
            command
        )
    assert halfpan("paints", "changes", "--json").out == before


def test_what_is_no_place_for_a_file_is_named(halfpan, tmp_path):
    assert halfpan("paints", "add", "-", given=LIST).code == 0
    (tmp_path / "folder.csv").mkdir()
    (tmp_path / "list.txt").write_text("no folder")
    folder = halfpan("paints", "export", str(tmp_path / "folder.csv"))
    assert (folder.code, folder.err) == (
        1,
        f"halfpan: {tmp_path / 'folder.csv'} cannot be written: it is a folder; name a file.\n",
    )
    below = halfpan("paints", "export", str(tmp_path / "list.txt" / "x.csv"))
    assert below.code == 1
    assert "what stands before its name is no folder" in below.err
    assert list((tmp_path / "folder.csv").iterdir()) == []


READS = {
    "a list": ("paints", "add"),
    "a photo": ("chart", "read"),
    "a light test's photo": ("light-test", "read"),
    "a hand-ruled chart": ("chart", "rule"),
    "readings": ("readings", "add"),
    "a table of mixes": ("mix", "predict", "--table"),
    "a back-up": ("--studio", "NEW", "restore"),
}


@pytest.mark.parametrize("command", READS.values(), ids=READS)
def test_what_cannot_be_opened_is_refused_in_a_sentence(halfpan, tmp_path, command):
    words = [str(tmp_path / "new") if word == "NEW" else word for word in command]
    for place, reason in ((tmp_path / "absent.csv", "no such file"), (tmp_path, "it is a folder")):
        ran = halfpan(*words, str(place))
        assert (ran.code, ran.out) == (1, "")
        assert ran.err.startswith(f"halfpan: {place} cannot be opened: ")
        assert reason in ran.err
        assert ran.err.count("\n") == 1
