"""What a painter installs: the built wheel in an empty environment, with nothing of this checkout."""

from __future__ import annotations

import re
import subprocess
import sys
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def run(*command, **more):
    return subprocess.run(command, capture_output=True, text=True, check=False, **more)


def test_the_wheel_runs_the_demo_in_an_empty_environment(tmp_path):
    built = run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "-o", str(tmp_path), str(ROOT))
    assert built.returncode == 0, built.stderr
    (wheel,) = tmp_path.glob("*.whl")
    venv.create(tmp_path / "empty", with_pip=True)
    python = tmp_path / "empty" / "bin" / "python"
    locked = re.sub(r"\s*\\\n\s*--hash=\S+", "", (ROOT / "requirements.lock").read_text(encoding="utf-8"))
    (tmp_path / "versions.txt").write_text(locked, encoding="utf-8")
    installed = run(python, "-m", "pip", "install", "-q", "-c", str(tmp_path / "versions.txt"), str(wheel))
    if installed.returncode and re.search(
        r"ConnectionError|Temporary failure|NewConnection", installed.stderr
    ):
        pytest.skip("no package registry can be reached from here")
    assert installed.returncode == 0, installed.stderr
    halfpan = tmp_path / "empty" / "bin" / "halfpan"
    demo = run(halfpan, "demo", "--out", str(tmp_path / "demo"), cwd=tmp_path)
    assert demo.returncode == 0, demo.stderr
    assert list((tmp_path / "demo").rglob("*.pdf"))
    assert list((tmp_path / "demo").rglob("*.html"))
