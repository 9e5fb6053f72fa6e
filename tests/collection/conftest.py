"""A new, empty store for each test."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine

from halfpan.collection.store import open_store

NOW = datetime(2026, 3, 1, 10, 0, tzinfo=UTC)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Engine]:
    engine = open_store(f"sqlite:///{tmp_path / 'halfpan.db'}")
    yield engine
    engine.dispose()


@pytest.fixture
def db(store: Engine) -> Iterator[Connection]:
    with store.connect().execution_options(keeps=True) as connection, connection.begin():
        yield connection
