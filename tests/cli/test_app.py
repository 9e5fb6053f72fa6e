from __future__ import annotations

import subprocess
import sys
from importlib import import_module

import pytest
import typer

from halfpan.cli.app import NOUNS

HEAVY = {"numpy", "cv2", "sqlalchemy", "scipy", "alembic", "PIL", "fastapi", "reportlab", "openpyxl"}


@pytest.mark.parametrize("noun", NOUNS)
def test_every_noun_of_the_help_can_be_called(halfpan, noun: str) -> None:
    import_module(f"halfpan.cli.{noun.replace('-', '_')}")
    shown = halfpan(noun, "--help")
    assert shown.code == 0
    assert "Usage: " in shown.out


def test_the_help_names_every_noun_and_loads_none_of_the_heavy_libraries() -> None:
    script = (
        "import sys\nfrom halfpan.cli.app import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        f"print(sorted({{m.split('.')[0] for m in sys.modules}} & {HEAVY}))"
    )
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout.rstrip().endswith("[]")
    for noun in NOUNS:
        assert f" {noun} " in ran.stdout


@pytest.mark.parametrize("noun", NOUNS)
def test_no_help_page_speaks_of_kinds_of_value_as_python_does(halfpan, monkeypatch, noun: str) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    verbs = getattr(
        typer.main.get_command(import_module(f"halfpan.cli.{noun.replace('-', '_')}").app), "commands", {}
    )
    for words in [(noun,), *((noun, verb) for verb in verbs)]:
        shown = halfpan(*words, "--help").out
        assert "Usage: " in shown
        for word in ("<bool", "<str", "<int", "<float", "<path", "<list"):
            assert word not in shown, (words, word)


def test_the_version_is_said(halfpan) -> None:
    assert halfpan("--version").out.startswith("halfpan 0.")


def test_a_studio_can_be_named_before_the_noun(halfpan, tmp_path) -> None:
    assert halfpan("--studio", str(tmp_path / "other"), "paints", "add", "--paint", "Rose, PV19").code == 0
    assert (tmp_path / "other" / "halfpan.db").exists()
    again = halfpan("--studio", str(tmp_path / "other"), "paints", "list")
    assert "Rose" in again.out
    assert again.err == ""
    assert not (tmp_path / "studio").exists()


def test_a_studio_that_is_not_there_begins_with_a_word_so_that_a_slip_is_seen(halfpan, tmp_path) -> None:
    ran = halfpan("--studio", str(tmp_path / "not-there-yet"), "paints", "list", "--json")
    assert ran.code == 0
    assert ran.err == f"There was no studio in {tmp_path / 'not-there-yet'}; a new one begins there.\n"
    assert '"paints": []' in ran.out


@pytest.mark.parametrize(
    ("word", "meant"),
    [("add", "halfpan paints add"), ("charts", "halfpan chart"), ("seat", "halfpan tin seat")],
)
def test_a_verb_without_its_noun_or_a_noun_written_wrongly_is_told_what_it_may_be(
    halfpan, word: str, meant: str
) -> None:
    shown = halfpan(word)
    assert shown.code == 2
    assert meant in " ".join(shown.err.replace("│", " ").split())
