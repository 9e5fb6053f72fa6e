"""What the program can do stands in its pages; what the pages say, the program does."""

from __future__ import annotations

import re
from importlib import import_module
from pathlib import Path

import pytest
import typer

from halfpan.cli.app import NOUNS

ROOT = Path(__file__).resolve().parents[1]
PAGES = {path: path.read_text(encoding="utf-8") for path in sorted((ROOT / "docs").rglob("*.md"))}
PAINTING = "\n".join(text for path, text in PAGES.items() if path.parent.name == "painting")


def commands():
    """Every command as it is typed: ``paints add``, ``serve``."""
    for noun in NOUNS:
        command = typer.main.get_command(import_module(f"halfpan.cli.{noun.replace('-', '_')}").app)
        verbs = getattr(command, "commands", None)
        yield from ([noun] if not verbs else [f"{noun} {verb}" for verb in verbs])


@pytest.mark.parametrize("command", list(commands()))
def test_every_command_is_explained_to_painters(command):
    assert re.search(rf"halfpan (--studio \S+ )?{command}\b", PAINTING), f"halfpan {command}: no page says it"


def test_no_page_names_a_command_that_is_not_there():
    known = set(commands())
    named = {
        " ".join(found.split())
        for text in [*PAGES.values(), (ROOT / "README.md").read_text(encoding="utf-8")]
        for found in re.findall(
            r"(?:`|^)halfpan (?:--studio \S+ )?([a-z][a-z-]*(?: [a-z][a-z-]*)?)", text, re.MULTILINE
        )
    }
    wrong = {text for text in named if text not in known and text.split()[0] not in known}
    assert {text for text in wrong if text not in NOUNS} == set()


def test_words_behind_a_command_are_words_to_the_shell_too():
    pages = {**PAGES, ROOT / "README.md": (ROOT / "README.md").read_text(encoding="utf-8")}
    told = re.compile(r"^ *(?:halfpan|source|export|make) .*?\S {3,}(?!#)\S", re.MULTILINE)
    assert {path.name: found for path, text in pages.items() if (found := told.findall(text))} == {}


@pytest.mark.parametrize("path", PAGES, ids=lambda path: path.name)
def test_links_and_pictures_of_a_page_exist(path):
    for link in re.findall(r"\]\(([^)#]+)", PAGES[path]):
        if "://" not in link:
            assert (path.parent / link).exists(), f"{path.name} points to {link}"


def test_every_page_is_linked_from_the_list_of_pages():
    linked = set(re.findall(r"\]\(([^)#]+\.md)", PAGES[ROOT / "docs" / "README.md"]))
    assert linked == {f"{path.parent.name}/{path.name}" for path in PAGES if path.name != "README.md"}


def test_the_readme_points_only_to_what_is_there():
    for link in re.findall(r"\]\(([^)#]+)", (ROOT / "README.md").read_text(encoding="utf-8")):
        assert (ROOT / link).exists(), link
