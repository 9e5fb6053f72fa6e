"""A new, empty studio for each test."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from halfpan.studio.studio import Studio, open_studio

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


@pytest.fixture
def now() -> datetime:
    return NOW


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Studio]:
    monkeypatch.delenv("HALFPAN_DATABASE", raising=False)
    opened = open_studio(tmp_path / "studio")
    yield opened
    opened.close()
