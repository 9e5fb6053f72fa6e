"""What every test may use."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the commands do

# A busy machine is slow, not wrong; and what the gate tries must be the same twice.
settings.register_profile("halfpan", deadline=None)
settings.register_profile("gate", deadline=None, derandomize=True)
settings.load_profile("gate" if os.environ.get("CI") else "halfpan")

SHARED_DATA = Path(__file__).resolve().parents[2] / "shared" / "data"


@pytest.fixture(scope="session")
def shared_data() -> Path:
    """The measured data that may not be kept in the repository."""
    if not SHARED_DATA.is_dir():
        pytest.skip(
            "the measured data in ../shared/data is absent (its licence keeps it out of the repository)"
        )
    return SHARED_DATA


@pytest.fixture(autouse=True)
def _no_terminal_of_ones_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Answers are written as into a pipe, whatever window the tests run in."""
    monkeypatch.delenv("COLUMNS", raising=False)
