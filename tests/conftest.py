"""What every test may use."""

from __future__ import annotations

from pathlib import Path

import pytest

SHARED_DATA = Path(__file__).resolve().parents[2] / "shared" / "data"


@pytest.fixture(scope="session")
def shared_data() -> Path:
    """The measured data that may not be kept in the repository."""
    if not SHARED_DATA.is_dir():
        pytest.skip(
            "the measured data in ../shared/data is absent (its licence keeps it out of the repository)"
        )
    return SHARED_DATA
