"""The same tables and use cases on PostgreSQL; a server is started for the test where one is installed."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from halfpan.collection import changes, paints
from halfpan.collection.store import open_store
from halfpan.collection.tables import metadata
from halfpan.core.paint.paint import Paint

NOW = datetime(2026, 3, 1, tzinfo=UTC)
ROSE = Paint(id="", maker="Tidewater", range="Estuary", name="Rosé", codes=("PV19",), tags=("pink",))


def as_server(*command: str) -> None:
    """Run a command as somebody PostgreSQL will serve: it refuses the superuser of the machine."""
    names = {one.pw_name for one in pwd.getpwall()}
    other = ["runuser", "-u", "postgres", "--"] if os.getuid() == 0 and "postgres" in names else []
    subprocess.run([*other, *command], check=True, capture_output=True)


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    pytest.importorskip("psycopg", reason="the extra “postgres” is not installed")
    where = shutil.which("initdb") or next(map(str, Path("/usr/lib/postgresql").glob("*/bin/initdb")), None)
    if where is None:
        pytest.skip("no PostgreSQL server is installed here")
    tools = Path(where).parent
    with TemporaryDirectory(prefix="halfpan-server-") as name:
        folder = Path(name)
        folder.chmod(0o777)
        control = [str(tools / "pg_ctl"), "-D", str(folder / "data"), "-w"]
        options = f"-k {folder} -c listen_addresses=''"
        try:
            as_server(str(tools / "initdb"), "-D", str(folder / "data"), "-A", "trust", "-U", "painter")
            as_server(*control, "-o", options, "-l", str(folder / "log"), "start")
        except subprocess.CalledProcessError as trouble:
            pytest.skip(
                f"the PostgreSQL server installed here does not start: {trouble.stderr.decode()[-200:]}"
            )
        yield f"postgresql+psycopg://painter@/postgres?host={folder}"
        as_server(*control, "stop")


def test_a_studio_on_a_server_is_the_same_studio(address: str) -> None:
    engine = open_store(address)
    with engine.begin() as db:
        assert compare_metadata(MigrationContext.configure(db), metadata) == []
        with changes.noted(db, "added", now=NOW):
            assert paints.add_all(db, [ROSE], now=NOW) == ["p1"]
    with engine.begin() as db:
        with changes.noted(db, "corrected", now=NOW):
            paints.edit(db, "p1", name="Rose", tags=("pink", "quiet"))
        assert changes.undo(db, now=NOW).what == "corrected"
        assert [(one.name, one.tags) for one in paints.listed(db)] == [("Rosé", ("pink",))]
        changes.undo(db, now=NOW)
        assert paints.listed(db) == []
    engine.dispose()
    again = open_store(address)
    with again.connect() as db:
        assert len(changes.listed(db)) == 4
    again.dispose()
