"""Run a command as a painter does, in this process."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from halfpan.cli.app import main


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str


Command = Callable[..., Ran]


@pytest.fixture
def halfpan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """Give a function that runs ``halfpan`` in a new studio and returns code, stdout and stderr."""
    monkeypatch.delenv("HALFPAN_DATABASE", raising=False)
    monkeypatch.setenv("HALFPAN_STUDIO", str(tmp_path / "studio"))

    def run(*words: str, given: str = "") -> Ran:
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(given.encode())))
        try:
            main(list(words))
            code = 0
        except SystemExit as stop:
            code = int(stop.code or 0)
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return run
