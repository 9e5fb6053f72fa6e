"""What the tree promises. Run as a program it lists questions to answer, which are not faults."""

from __future__ import annotations

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "halfpan"
MODULES = sorted(SOURCE.rglob("*.py"))
CORE = [path for path in MODULES if path.is_relative_to(SOURCE / "core")]
REFUSED_NAMES = {"utils", "util", "helpers", "helper", "common", "misc", "base", "manager"}


def tracked():
    """Every text file that git keeps."""
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    ).stdout.splitlines()
    binary = {".png", ".jpg", ".pdf", ".woff2", ".ttf", ".lock", ".tif", ".xlsx", ".zip"}
    return [ROOT / name for name in listed if Path(name).suffix not in binary and (ROOT / name).is_file()]


@pytest.mark.parametrize("path", CORE, ids=lambda path: str(path.relative_to(SOURCE)))
def test_the_core_opens_and_prints_nothing(path):
    calls = [
        node.func.id
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    ]
    assert not {"open", "print", "input"} & set(calls)
    assert not re.search(r"cv2\.im(read|write|decode|encode)", path.read_text(encoding="utf-8"))


def test_no_module_is_named_for_being_left_over():
    assert [path for path in MODULES if path.stem in REFUSED_NAMES] == []


def test_every_folder_says_what_it_is_for():
    for path in SOURCE.rglob("__init__.py"):
        assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))), path


def test_no_file_names_a_machine_path_or_a_registry():
    listed = tracked()
    if not listed:
        pytest.skip("this is not a git checkout, so what is kept cannot be listed")
    walls = re.compile("/(" + "|".join(word[::-1] for word in ("krow", "mraf", "toor", "emoh")) + ")/")
    hosts = re.compile("|".join(word[::-1] for word in ("gro.ipyp", "gro.detsohnohtyp", "gro.sjmpn")))
    faults = []
    for path in listed:
        text = path.read_text(encoding="utf-8", errors="replace")
        faults += [str(path.relative_to(ROOT)) for found in (walls.search(text), hosts.search(text)) if found]
    assert faults == []


def questions():
    """Yield what a reviewer would ask of the tree."""
    untested = 0
    for path in MODULES:
        lines = len(path.read_text(encoding="utf-8").splitlines())
        if lines > 300:
            yield f"{path.relative_to(ROOT)} has {lines} lines: is a second noun hiding in it?"
        where = path.relative_to(SOURCE)
        test = ROOT / "tests" / where.parent / f"test_{where.stem}.py"
        if where.stem != "__init__" and "schema" not in where.parts and not test.exists():
            untested += 1
    yield f"{untested} of {len(MODULES)} modules have no test of the same name: which promises their work?"


if __name__ == "__main__":
    for question in questions():
        print(question)  # noqa: T201
